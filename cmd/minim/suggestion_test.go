package main

import (
	"regexp"
	"strings"
	"testing"
)

// A word of the trade leads to what answers it, a slip of the keyboard to the
// command, and anything else to no guess.
func TestWordsThatAreNoCommandLeadSomewhere(t *testing.T) {
	for word, want := range map[string]string{
		"swap": "minim rebalance", "choose": "minim design --at-most", "lot": "minim pantry lot", "lots": "minim pantry lot",
		"allergens": "minim profile, and minim card", "cost": "minim profile --cost", "batches": "nearest: batch", "desing": "nearest: design",
		"xylophone": "`minim help` lists them",
	} {
		for _, args := range [][]string{{word}, {"help", word}} {
			code, _, errs := minim(t, "", args...)
			if code != exitBadInput || !strings.Contains(strings.Join(strings.Fields(errs), " "), want) {
				t.Errorf("minim %q: exit code %d, %s; expected %q", args, code, errs, want)
			}
		}
	}
}

// What a trade word leads to is there: a command, its flag, or a topic.
func TestTradeWordsLeadToWhatThereIs(t *testing.T) {
	for word, meant := range tradeWords {
		for _, one := range strings.Split(meant, ", and ") {
			words := strings.Fields(one)[1:]
			if words[0] == "help" {
				words = words[1:]
			}
			flag := regexp.MustCompile(` (--[a-z-]+)`).FindStringSubmatch(one)
			if flag != nil {
				words = words[:len(words)-1]
			}
			code, out, errs := minim(t, "", append([]string{"help"}, words...)...)
			if code != exitAnswered || flag != nil && !strings.Contains(out, flag[1]) {
				t.Errorf("%s leads to %q: exit code %d\n%s", word, one, code, errs)
			}
		}
	}
}
