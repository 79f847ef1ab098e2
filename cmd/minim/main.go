// Command minim turns the taste that a drinks developer intends into amounts
// that a bar can measure. See README.md, or run minim help.
package main

import (
	"os"
	"os/signal"
	"syscall"
)

func main() {
	// A reader that goes away early is an answer that could not be written, not
	// a reason to die of a signal.
	signal.Ignore(syscall.SIGPIPE)
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
