package main

import (
	"fmt"
	"io"
)

// help answers `minim help` and `minim help COMMAND`.
func help(args []string, s streams) error {
	if len(args) == 0 {
		printOverview(s.out)
		return nil
	}
	if args[0] == "help" {
		printOverview(s.out)
		return nil
	}
	c, err := commandNamed(args[0])
	if err != nil {
		return err
	}
	printHelp(s.out, c, newFlags(c))
	return nil
}

func printOverview(w io.Writer) {
	fmt.Fprintln(w, "minim turns the taste you intend into amounts your bar can measure.")
	fmt.Fprintln(w)
	for _, c := range commands() {
		fmt.Fprintf(w, "  minim %-24s %s\n", c.synopsis, c.summary)
	}
	fmt.Fprintf(w, "  minim %-24s %s\n", "help COMMAND", "what a command takes, with an example")
	fmt.Fprintln(w, `
A file named - is standard input. Exit code 0: answered. 1: answered, but a hard
limit cannot be met. 2: something in the input is wrong; it says where. 3: the
answer could not be written.`)
}

func printHelp(w io.Writer, c *command, f *flags) {
	fmt.Fprintf(w, "minim %s\n\n%s\n\nExample:\n  %s\n\n%s", c.synopsis, c.about, c.example, f.usages())
}
