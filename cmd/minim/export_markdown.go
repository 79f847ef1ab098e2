package main

import (
	"fmt"
	"io"
	"strings"

	"minim/profile"
	"minim/solver"
)

// markdownMarks are what Markdown could take for its own, escaped with a
// backslash; what HTML could take for its own becomes an entity, for readers
// that know no backslash.
var markdownMarks = strings.NewReplacer(
	`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "[", `\[`, "]", `\]`, "#", `\#`, "|", `\|`, "~", `\~`, "!", `\!`, "$", `\$`,
	"<", "&lt;", ">", "&gt;", "&", "&amp;",
)

// markdownText is text that Markdown prints as it is.
func markdownText(text string) string { return markdownMarks.Replace(text) }

// writeMarkdown writes a drink as Markdown: a table of the pours, the steps, a
// line of figures and the cautions.
func writeMarkdown(w io.Writer, a *solver.Answer, f *flags) error {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\n\n", markdownText(drinkName(a)))
	b.WriteString("| amount | ingredient | when |\n| ---: | --- | --- |\n")
	for i := range a.Pours {
		p := &a.Pours[i]
		fmt.Fprintf(&b, "| %s | %s | %s |\n", markdownText(f.pourText(p)), markdownText(p.Name), p.Stage)
	}
	b.WriteString("\n")
	for n, step := range a.Spec.BuildingSteps() {
		fmt.Fprintf(&b, "%d. %s\n", n+1, markdownText(step))
	}
	known := func(p profile.Property) string {
		text := withDoubt(p, &a.Profile[p], knownDigits(decimals[p], &a.Profile[p]))
		if text == unknownValue {
			return p.Name() + " " + text
		}
		return p.Name() + " " + text + " " + p.Unit()
	}
	fmt.Fprintf(&b, "\n%s; %s, %s.\n", f.shortProfile(a), known(profile.Sugar), known(profile.Acid))
	if len(a.Cautions) > 0 {
		fmt.Fprintf(&b, "\n## With care\n\n%s\n\n", profile.LocalRules)
		for i := range a.Cautions {
			fmt.Fprintf(&b, "- %s\n", markdownText(a.Cautions[i].String()))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}
