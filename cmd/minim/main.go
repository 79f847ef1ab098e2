// Command minim turns the taste that a drinks developer intends into amounts
// that a bar can measure. See README.md, or run minim help.
package main

import "os"

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
