package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

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
}

// commands is every command, in the order of the help.
func commands() []command { return []command{designCommand, profileCommand} }

// run finds the command, runs it, and turns what went wrong into an exit code.
// Nothing below it prints an error.
func run(args []string, in io.Reader, out, errs io.Writer) int {
	checked := &checkedWriter{to: out}
	err := dispatch(args, streams{in, checked, errs})
	if err == nil && checked.err != nil {
		err = &writeError{checked.err}
	}
	var notWritten *writeError
	switch {
	case err == nil:
		return exitAnswered
	case errors.Is(err, errLimitBroke):
		return exitLimitBroke
	case errors.As(err, &notWritten):
		fmt.Fprintf(errs, "minim: %v\n", err)
		return exitNotWritten
	}
	var located pantry.InputErrors
	if errors.As(err, &located) {
		fmt.Fprintln(errs, err)
	} else {
		fmt.Fprintf(errs, "minim: %v\n", err)
	}
	return exitBadInput
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
	name, rest := args[0], args[1:]
	if name == "help" || name == "--help" || name == "-h" {
		return help(rest, s)
	}
	c, err := commandNamed(name)
	if err != nil {
		return err
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

func commandNames() []string {
	var names []string
	for _, c := range commands() {
		names = append(names, c.name)
	}
	return append(names, "help")
}

func commandNamed(name string) (*command, error) {
	for _, c := range commands() {
		if c.name == name {
			return &c, nil
		}
	}
	return nil, fmt.Errorf("no command %q; nearest: %s", name, strings.Join(pantry.Nearest(name, commandNames(), 2), ", "))
}
