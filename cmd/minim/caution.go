package main

import (
	"strings"

	"minim/profile"
)

// jsonCaution is a caution for other programs.
type jsonCaution struct {
	Key         string   `json:"key"`
	Ingredients []string `json:"ingredients"`
	Title       string   `json:"title"`
	Text        string   `json:"text"`
	Rule        string   `json:"rule"`
}

func cautionsJSON(cautions []profile.Caution) []jsonCaution {
	out := []jsonCaution{}
	for _, c := range cautions {
		out = append(out, jsonCaution{c.Key, append([]string{}, c.Ingredients...), c.Title, c.Text, c.Rule})
	}
	return out
}

// writeCautions prints one short block: each caution, the rule behind it, and
// what goes before them all.
func writeCautions(b *strings.Builder, cautions []profile.Caution) {
	if len(cautions) == 0 {
		return
	}
	b.WriteString("\n" + wrap("With care. "+profile.LocalRules, lineWidth) + "\n")
	for _, c := range cautions {
		text := strings.ReplaceAll(wrap(c.String(), lineWidth-2), "\n", "\n  ")
		b.WriteString("- " + text + "\n")
	}
}
