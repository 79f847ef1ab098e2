package main

import (
	"fmt"
	"io"
	"strings"

	"minim/pantry"
)

// help answers `minim help` and `minim help COMMAND`, of one word or more.
func help(args []string, s streams) error {
	if len(args) == 0 {
		printOverview(s.out)
		return nil
	}
	if args[0] == "help" {
		printOverview(s.out)
		return nil
	}
	if t, ok := topicNamed(args[0]); ok && len(args) == 1 {
		if _, err := io.WriteString(s.out, t.text()); err != nil {
			return &writeError{err}
		}
		return nil
	}
	c, rest, err := commandNamed(args)
	if near := pantry.NearestWithin(args[0], topicNames(), 1); err != nil && len(near) > 0 && len(args) == 1 && answersTo(args[0]) == "" {
		return fmt.Errorf("%w; topic: %s", err, near[0])
	}
	switch {
	case err != nil:
		return err
	case len(rest) > 0:
		return fmt.Errorf("nothing is known of %q after %s; expected `minim help %s`", rest[0], c.name, c.name)
	case len(c.commands) > 0:
		printGroup(s.out, c)
		return nil
	}
	printHelp(s.out, c, newFlags(c))
	return nil
}

// helpSummary is what the overview and completion say of help.
const helpSummary = "what a command takes, with an example"

// overviewIntroduction and overviewCodes stand before and after the commands.
const (
	overviewIntroduction = "minim turns the taste you intend into amounts your bar can measure."
	overviewCodes        = `A file named - is standard input. Exit code 0: answered. 1: answered, but a hard
limit cannot be met. 2: something in the input is wrong; it says where. 3: the
answer could not be written. What is printed is at most 80 columns wide.`
)

func printOverview(w io.Writer) {
	fmt.Fprintln(w, overviewIntroduction)
	fmt.Fprintln(w)
	for _, c := range commands() {
		fmt.Fprintf(w, "  minim %-24s %s\n", c.synopsis, c.summary)
	}
	fmt.Fprintf(w, "  minim %-24s %s\n", "help COMMAND", helpSummary)
	fmt.Fprintf(w, "  minim %-24s %s\n", "help TOPIC", "TOPIC: "+strings.Join(topicNames(), ", "))
	fmt.Fprintf(w, "\n%s\n", overviewCodes)
}

func printHelp(w io.Writer, c *command, f *flags) {
	fmt.Fprintf(w, "minim %s\n\n%s\n\nExample:\n  %s\n\n%s", c.synopsis, c.about, c.example, f.usages())
}

// printGroup lists the commands that follow a word.
func printGroup(w io.Writer, c *command) {
	fmt.Fprintf(w, "minim %s\n\n%s\n\n", c.synopsis, c.about)
	widest := 0
	for _, one := range c.commands {
		widest = max(widest, len(one.synopsis))
	}
	for _, one := range c.commands {
		indent := strings.Repeat(" ", widest+10)
		summary := strings.ReplaceAll(wrap(one.summary, lineWidth-widest-10), "\n", "\n"+indent)
		fmt.Fprintf(w, "  minim %-*s  %s\n", widest, one.synopsis, summary)
	}
	fmt.Fprintf(w, "\n`minim help %s COMMAND` says what one takes, with an example.\n", c.name)
}
