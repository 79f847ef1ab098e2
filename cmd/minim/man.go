package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
)

func manCommand() command {
	return command{
		name:     "man",
		synopsis: "man [FOLDER]",
		summary:  "the manual, as man pages",
		about: `Writes a man page for each command and each topic of the help into a folder that
is there, such as one in your MANPATH ending in man1; without one it prints the
page of minim itself.`,
		example: `minim man`,
		bare:    true,
		flags:   func(*flags) {},
		run: func(f *flags, s streams) error {
			info, _ := debug.ReadBuildInfo()
			pages := manPages(buildOf(info))
			switch len(f.args) {
			case 0:
				if _, err := s.out.Write(pages[0].text); err != nil {
					return &writeError{err}
				}
				return nil
			case 1:
			default:
				return fmt.Errorf("%d folders named; expected one, or none to print the first page", len(f.args))
			}
			folder := f.args[0]
			if info, err := os.Stat(folder); err != nil {
				return readError(folder, err)
			} else if !info.IsDir() {
				return fmt.Errorf("%s: not a folder; expected one to write the pages into", folder)
			}
			for _, p := range pages {
				write := func(w io.Writer) error { _, err := w.Write(p.text); return err }
				if err := writeFile(filepath.Join(folder, p.file), write); err != nil {
					return err
				}
			}
			if _, err := fmt.Fprintln(s.out, wrap(fmt.Sprintf("%s written into %s.", countOf(len(pages), "page"), folder), lineWidth)); err != nil {
				return &writeError{err}
			}
			return nil
		},
	}
}

// manPage is one page and the name of its file.
type manPage struct {
	file string
	text []byte
}

// manPages are the pages of the program, its commands and its topics, that of
// the program first.
func manPages(b build) []manPage {
	pages := []manPage{overviewPage(b)}
	var add func([]command)
	add = func(all []command) {
		for n := range all {
			pages = append(pages, commandPage(&all[n], b))
			add(all[n].commands)
		}
	}
	add(commands())
	for _, t := range topics() {
		pages = append(pages, topicPage(t, b))
	}
	return pages
}

// pageName is the name of a page: minim-pantry-show of pantry show.
func pageName(words string) string {
	return strings.TrimSuffix("minim-"+strings.ReplaceAll(words, " ", "-"), "-")
}

// newPage begins a page: man(7), Linux man-pages project.
func newPage(words, summary string, b build) *bytes.Buffer {
	var out bytes.Buffer
	day, _, _ := strings.Cut(b.RevisionTime, "T")
	name := pageName(words)
	fmt.Fprintf(&out, ".TH %s 1 \"%s\" \"minim %s\" \"minim\"\n.SH NAME\n%s \\- %s\n",
		roff(strings.ToUpper(name)), day, roff(b.Version), roff(name), roff(summary))
	return &out
}

func overviewPage(b build) manPage {
	out := newPage("", "from the taste you intend to amounts a bar can measure", b)
	fmt.Fprintf(out, ".SH SYNOPSIS\n.B minim\n.I COMMAND\n.RI [ ARGUMENT .\\|.\\|.]\n.SH DESCRIPTION\n%s\n.SH COMMANDS\n", paragraph(overviewIntroduction))
	for _, c := range commands() {
		fmt.Fprintf(out, ".TP\n.B minim %s\n%s\n", roff(c.synopsis), paragraph(c.summary))
	}
	fmt.Fprintf(out, ".TP\n.B minim help COMMAND\n%s\n", paragraph(helpSummary))
	for _, t := range topics() {
		fmt.Fprintf(out, ".TP\n.B minim help %s\n%s\n", roff(t.name), paragraph(t.summary))
	}
	fmt.Fprintf(out, ".SH EXIT STATUS\n%s\n", paragraph(overviewCodes))
	return manPage{pageName("") + ".1", out.Bytes()}
}

func commandPage(c *command, b build) manPage {
	out := newPage(c.name, c.summary, b)
	fmt.Fprintf(out, ".SH SYNOPSIS\n.B minim %s\n.SH DESCRIPTION\n%s\n", roff(c.synopsis), paragraph(c.about))
	if len(c.commands) > 0 {
		fmt.Fprintln(out, ".SH COMMANDS")
		for _, one := range c.commands {
			fmt.Fprintf(out, ".TP\n.B minim %s\n%s\n", roff(one.synopsis), paragraph(one.summary))
		}
	} else {
		if facts := newFlags(c).facts(); len(facts) > 0 {
			fmt.Fprintln(out, ".SH OPTIONS")
			for _, g := range facts {
				head := "\\fB" + roff("--"+g.name) + "\\fR"
				if g.value != "" {
					head += " \\fI" + roff(g.value) + "\\fR"
				}
				fmt.Fprintf(out, ".TP\n%s\n%s\n", head, paragraph(g.usage))
			}
		}
		fmt.Fprintf(out, ".SH EXAMPLES\n.EX\n%s\n.EE\n", roff(c.example))
	}
	fmt.Fprintf(out, ".SH EXIT STATUS\n%s\n.SH SEE ALSO\n.BR minim (1)\n", paragraph(overviewCodes))
	return manPage{pageName(c.name) + ".1", out.Bytes()}
}

func topicPage(t topic, b build) manPage {
	out := newPage("help "+t.name, t.summary, b)
	fmt.Fprintln(out, ".SH DESCRIPTION\n.EX")
	for _, line := range strings.Split(strings.TrimSuffix(t.text(), "\n"), "\n") {
		fmt.Fprintln(out, roff(line))
	}
	fmt.Fprintln(out, ".EE\n.SH SEE ALSO\n.BR minim (1)")
	return manPage{pageName("help "+t.name) + ".1", out.Bytes()}
}

// paragraph is running text, which man fills by itself.
func paragraph(text string) string {
	return roff(strings.Join(strings.Fields(text), " "))
}

// roff writes text so that nothing in it is taken for a command of the
// typesetter: backslashes, a dot or an apostrophe that begins a line, hyphens
// that must stay what they are when they are copied, and letters beyond ASCII.
func roff(text string) string {
	var b strings.Builder
	if strings.HasPrefix(text, ".") || strings.HasPrefix(text, "'") {
		b.WriteString("\\&")
	}
	for _, r := range text {
		switch {
		case r == '\\':
			b.WriteString("\\e")
		case r == '-':
			b.WriteString("\\-")
		case r == '\'':
			b.WriteString("\\(aq")
		case r == '"':
			b.WriteString("\\(dq")
		case r > 126:
			fmt.Fprintf(&b, "\\[u%04X]", r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
