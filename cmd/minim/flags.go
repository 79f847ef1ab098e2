package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"minim/pantry"
	"minim/profile"
)

// flags are the words on a command line, and the only user of pflag.
type flags struct {
	command *command
	set     *pflag.FlagSet
	args    []string
	// typed are the words after the command, as they were written.
	typed []string

	json    bool
	units   string
	pantry  []string
	lots    string
	spec    bool
	robust  bool
	chosen  choiceFlags
	from    []string
	ice     string
	measure string
	glass   string
	name    string
	rocks   string
	of      string
	svg     string
	drinks  []string
	targets map[profile.Property]*string

	lighten  lightenFlags
	list     listFlags
	lot      lotFlags
	measured measureFlags
	change   changeFlags
	batch    batchFlags
	cost     costFlags
	out      string
	as       string
	// newWord says that the word to complete has not begun.
	newWord bool
}

func newFlags(c *command) *flags {
	f := &flags{command: c, set: pflag.NewFlagSet(c.name, pflag.ContinueOnError), targets: map[profile.Property]*string{}, units: liquidUnits[millilitres].word}
	f.set.SortFlags = false
	f.set.Usage = func() {}
	c.flags(f)
	if c.bare {
		return f
	}
	f.set.BoolVar(&f.json, "json", false, "print everything as JSON")
	f.set.StringVar(&f.units, "units", liquidUnits[millilitres].word, "`ml`, cl, oz (US fluid ounces in quarters) or imp-oz (imperial ones)")
	f.set.StringArrayVar(&f.pantry, "pantry", nil, "a CSV `FILE` of your own over the built-in pantry (repeatable)")
	f.set.StringVar(&f.lots, "lots", "", "a CSV `FILE` of your own measurements, as minim pantry lot writes it; the newest of each ingredient counts")
	return f
}

// targetFlags adds a flag for each property.
func (f *flags) targetFlags() {
	for p := profile.Property(0); p < profile.Property(profile.Properties); p++ {
		text := new(string)
		f.targets[p] = text
		usage := "target for " + p.Name() + ", in `" + p.Unit() + "`"
		switch p {
		case profile.Volume:
			usage += "; beside --units oz with its unit, such as 4oz"
		case profile.PH:
			usage = "target for the `pH`, from 0 to 14"
		}
		f.set.StringVar(text, p.Name(), "", usage)
	}
}

// parse reads the command line; asked is true where it asks for help.
func (f *flags) parse(args []string) (asked bool, err error) {
	if err := f.set.Parse(args); err != nil {
		if err == pflag.ErrHelp {
			return true, nil
		}
		return false, f.flagError(err)
	}
	f.args, f.typed = f.set.Args(), args
	if f.command.bare {
		return false, nil
	}
	if f.json && f.spec {
		return false, errors.New("--json and --spec were both given; expected the one or the other")
	}
	if err := f.checkSpecFile(); err != nil {
		return false, err
	}
	if _, err := parseLiquidUnit(f.units); err != nil {
		return false, err
	}
	dashes := 0
	for _, a := range slices.Concat(f.args, f.pantry, []string{f.lots}) {
		if a == "-" {
			dashes++
		}
	}
	if dashes > 1 {
		return false, fmt.Errorf("standard input (-) was named %d times; it can be read only once", dashes)
	}
	return false, nil
}

// flagError names the flags nearest to one that there is not.
func (f *flags) flagError(err error) error {
	unknown, ok := err.(*pflag.NotExistError)
	if !ok {
		return fmt.Errorf("%s; see `minim help %s`", err.Error(), f.command.name)
	}
	name := unknown.GetSpecifiedName()
	if shorthands := unknown.GetSpecifiedShortnames(); shorthands != "" {
		return fmt.Errorf("no flag -%s; flags begin with two dashes, such as --json", shorthands)
	}
	var all []string
	f.set.VisitAll(func(g *pflag.Flag) { all = append(all, "--"+g.Name) })
	near := pantry.NearestWithin("--"+name, all, 2)
	if len(near) == 0 {
		return fmt.Errorf("no flag --%s; `minim help %s` lists them", name, f.command.name)
	}
	return fmt.Errorf("no flag --%s; nearest: %s", name, strings.Join(near, ", "))
}

// given tells whether the person wrote the flag.
func (f *flags) given(name string) bool { return f.set.Changed(name) }

// flagFacts is what is known of a flag: its name, the word for its value (empty
// where it takes none), and what it does.
type flagFacts struct {
	name, value, usage string
	repeatable         bool
}

// facts are the flags in the order of the help.
func (f *flags) facts() []flagFacts {
	var all []flagFacts
	f.set.VisitAll(func(g *pflag.Flag) {
		value, usage := pflag.UnquoteUsage(g)
		if g.Value.Type() == "bool" {
			value = ""
		}
		all = append(all, flagFacts{g.Name, value, usage, g.Value.Type() == "stringArray"})
	})
	return all
}

// usages is the list of flags for a help text of 80 columns.
func (f *flags) usages() string {
	const indent = 21
	var b strings.Builder
	for _, g := range f.facts() {
		head := strings.TrimRight("  --"+g.name+" "+g.value, " ")
		if room := indent - len([]rune(head)); room > 0 {
			head += strings.Repeat(" ", room)
		} else {
			head += "\n" + strings.Repeat(" ", indent)
		}
		body := strings.ReplaceAll(wrap(g.usage, lineWidth-indent), "\n", "\n"+strings.Repeat(" ", indent))
		b.WriteString(head + body + "\n")
	}
	return b.String()
}
