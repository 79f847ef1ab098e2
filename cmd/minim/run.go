package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"syscall"

	"minim/pantry"
)

// Exit codes, as documented in the help.
const (
	exitAnswered   = 0
	exitLimitBroke = 1
	exitBadInput   = 2
	exitNotWritten = 3
)

// errLimitBroke says that an answer was given but breaks a hard limit.
var errLimitBroke = errors.New("a hard limit cannot be met")

// errFindings says that findings were listed of which one is an error.
var errFindings = errors.New("the file has errors")

// writeError is an answer that could not be written.
type writeError struct{ err error }

func (e *writeError) Error() string { return "the answer could not be written: " + e.err.Error() }
func (e *writeError) Unwrap() error { return e.err }

// streams are what a command reads from and writes to.
type streams struct {
	in  io.Reader
	out io.Writer
	err io.Writer
}

// command is one word of the program.
type command struct {
	name, synopsis, summary string
	// about is the help text's body, example a line that runs as printed.
	about, example string
	flags          func(*flags)
	run            func(*flags, streams) error
	// bare commands tell of the program itself: they read no drink and have none
	// of the flags that every other command shares.
	bare bool
	// schema names the file in schema that describes what --json prints; empty
	// for a command that is bare or prints no JSON.
	schema string
	// commands are the words that follow this one; a command with any has
	// neither flags nor run of its own.
	commands []command
}

// commands is every command, in the order of the help.
func commands() []command {
	return []command{
		designCommand,
		profileCommand,
		rebalanceCommand,
		lightenCommand,
		nudgeCommand,
		reachCommand,
		compareCommand,
		prepCommand,
		batchCommand,
		cardCommand,
		exportCommand,
		importCommand,
		pantryCommand,
		completionCommand(),
		completeCommand(),
		manCommand(),
		schemaCommand(),
		versionCommand,
	}
}

// run finds the command, runs it, and turns what went wrong into an exit code.
// Nothing below it prints an error.
func run(args []string, in io.Reader, out, errs io.Writer) int {
	checked := &checkedWriter{to: out}
	err := dispatch(args, streams{in, checked, errs})
	var notWritten *writeError
	if checked.err != nil && !errors.As(err, &notWritten) {
		err = &writeError{checked.err}
	}
	switch {
	case err == nil:
		return exitAnswered
	case errors.Is(err, errLimitBroke):
		return exitLimitBroke
	case errors.Is(err, errFindings):
		return exitBadInput
	case errors.As(err, &notWritten):
		// Whoever closed the pipe, as head does, has read enough and knows.
		if !errors.Is(checked.err, syscall.EPIPE) {
			fmt.Fprintln(errs, errorLines("minim: "+err.Error()))
		}
		return exitNotWritten
	}
	text := err.Error()
	var located pantry.InputErrors
	if !errors.As(err, &located) {
		text = "minim: " + text
	}
	fmt.Fprintln(errs, errorLines(text))
	return exitBadInput
}

// errorLines breaks the lines of an error that are wider than a terminal, at
// spaces. Lines that are set in are the person's own with the mark under it, and
// stay whole.
func errorLines(text string) string {
	lines := strings.Split(text, "\n")
	for n, line := range lines {
		if strings.HasPrefix(line, "  ") {
			continue
		}
		var broken []string
		rest := []rune(line)
		for len(rest) > lineWidth {
			at := lineWidth
			for at > 0 && rest[at] != ' ' {
				at--
			}
			if at == 0 {
				if at = slices.Index(rest, ' '); at < 0 {
					break
				}
			}
			broken = append(broken, string(rest[:at]))
			rest = rest[at+1:]
		}
		lines[n] = strings.Join(append(broken, string(rest)), "\n")
	}
	return strings.Join(lines, "\n")
}

// checkedWriter remembers the first failure to write.
type checkedWriter struct {
	to  io.Writer
	err error
}

func (w *checkedWriter) Write(b []byte) (int, error) {
	n, err := w.to.Write(b)
	if err != nil && w.err == nil {
		w.err = err
	}
	return n, err
}

func dispatch(args []string, s streams) error {
	if len(args) == 0 {
		printOverview(s.err)
		return errors.New("no command given; expected one of " + strings.Join(commandNames(), ", "))
	}
	if name := args[0]; name == "help" || name == "--help" || name == "-h" {
		return help(args[1:], s)
	}
	c, rest, err := commandNamed(args)
	if err != nil {
		return err
	}
	if len(c.commands) > 0 {
		if len(rest) > 0 {
			printGroup(s.out, c)
			return nil
		}
		printGroup(s.err, c)
		return fmt.Errorf("nothing after %s; expected one of %s", c.name, strings.Join(names(c.commands), ", "))
	}
	f := newFlags(c)
	asked, err := f.parse(rest)
	if err != nil {
		return err
	}
	if asked {
		printHelp(s.out, c, f)
		return nil
	}
	return c.run(f, s)
}

func commandNames() []string { return append(names(commands()), "help") }

// names are the last words of commands.
func names(all []command) []string {
	var words []string
	for _, c := range all {
		words = append(words, c.name[strings.LastIndex(c.name, " ")+1:])
	}
	return words
}

// commandNamed follows the words of a command line to a command, and returns
// what is left of them. Where a word asks for the help of a group of commands,
// that group is returned with the word.
func commandNamed(args []string) (c *command, rest []string, err error) {
	among, words := commands(), commandNames()
	for len(args) > 0 {
		n := slices.IndexFunc(among, func(one command) bool { return strings.HasSuffix(" "+one.name, " "+args[0]) })
		switch {
		case n >= 0:
		case c != nil && (args[0] == "--help" || args[0] == "-h"):
			return c, args, nil
		case c != nil:
			return nil, nil, noCommand(args[0], " after "+c.name, words)
		default:
			return nil, nil, noCommand(args[0], "", words)
		}
		c, args = &among[n], args[1:]
		if len(c.commands) == 0 {
			return c, args, nil
		}
		among, words = c.commands, names(c.commands)
	}
	return c, nil, nil
}
