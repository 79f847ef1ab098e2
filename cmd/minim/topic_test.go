package main

import (
	"regexp"
	"strings"
	"testing"
)

// The topics say what the program counts with, and that is what is published.
func TestTopicsSayWhatIsPublished(t *testing.T) {
	for _, c := range []struct{ topic, pattern, source string }{
		{"units", `(?m)^ oz +29\.57 +ml `, "NIST Handbook 44, appendix C: 1 US fluid ounce is 29.573 53 ml"},
		{"units", `(?m)^ imp oz +28\.41 +ml `, "UK Units of Measurement Regulations 1995: 1 fluid ounce is 28.413 062 5 ml"},
		{"units", `(?m)^ cl +10 +ml `, "SI prefixes"},
		{"measures", `7\.39 ml`, "a quarter of 29.573 53 ml"},
		{"measures", `(?m)^ 1 dash +0\.92 +ml +20 %$`, "common practice, no source"},
		{"measures", `A jigger is off by 0\.75 ml, or 2 %`, "common practice, no source"},
		{"jnd", `(?m)^ bitter +mg/L +5\.00 +30 % +20 +7\.81$`, "by hand: sqrt(25 + 36)"},
		{"jnd", `(?m)^ sugar +g/L +4\.00 +17 % +80 +14\.18$`, "by hand: sqrt(16 + 184.96)"},
		{"jnd", `(?m)^ acid +g/L +0\.10 +20 % +8 +1\.60$`, "by hand: sqrt(0.01 + 2.56)"},
		{"targets", `melt into each\s+100 ml of the mix before\s+ice[\s\S]* 50 ml of melt in a mix of 89 ml is\s+56\s+%[\s\S]* 36\s+%`, "by hand: 50/89 and 50/139, contraction aside"},
		{"jnd", `(?m)^ temperature +°C +2\.00 +0 % +0 +2\.00$`, "by hand"},
	} {
		_, out, _ := minim(t, "", "help", c.topic)
		if !regexp.MustCompile(c.pattern).MatchString(out) {
			t.Errorf("help %s has no %s (%s):\n%s", c.topic, c.pattern, c.source, out)
		}
	}
}

func TestTopicsFitTheTerminal(t *testing.T) {
	for _, name := range topicNames() {
		code, out, errs := minim(t, "", "help", name)
		if code != exitAnswered || errs != "" {
			t.Errorf("help %s: exit code %d\n%s", name, code, errs)
		}
		fits(t, out, []string{"help", name})
		if _, capitals, _ := minim(t, "", "help", strings.ToUpper(name)); capitals != out {
			t.Errorf("help %s in capitals is another text", name)
		}
		for _, c := range commands() {
			if c.name == name {
				t.Errorf("%s is a command and a topic", name)
			}
		}
	}
}
