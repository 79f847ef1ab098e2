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
		"thick": "minim nudge --more", "kcal": "minim profile", "calories": "minim profile", "energy": "minim profile", "shelf-life": "minim batch",
		"abv": "minim help targets", "brix": "minim batch", "sour": "minim nudge --more", "dash": "minim pantry measure dash", "jigger": "minim help measures",
		"mocktail": "minim lighten --below", "zero": "minim lighten --below", "scale": "minim batch --scale", "stronger": "minim nudge --more",
		"carbonate": "minim prep", "fizz": "minim help targets", "margin": "minim profile --price", "glass": "minim design --glass",
		"ice": "minim design --ice", "shake": "minim design --ice", "ounces": "minim help units", "barspoons": "minim help units",
		"xanthan": `minim pantry show "Xanthan gum"`, "xylophone": "`minim help` lists them",
	} {
		for _, args := range [][]string{{word}, {"help", word}} {
			code, _, errs := minim(t, "", args...)
			if code != exitBadInput || !strings.Contains(strings.Join(strings.Fields(errs), " "), want) {
				t.Errorf("minim %q: exit code %d, %s; expected %q", args, code, errs, want)
			}
		}
	}
}

// A name that is like no property or ingredient leads to what there is, and not to
// whatever shares a letter with it; one that is like some leads to them.
func TestNamesLikeNothingAreGivenNoNearest(t *testing.T) {
	filesBeside(t, sour)
	for _, word := range []string{"xyzzy", "champagne"} {
		for _, c := range []struct {
			args []string
			want string
		}{
			{[]string{"rebalance", "any.yaml", "--ignore", word}, "expected one of volume, abv,"},
			{[]string{"reach", "any.yaml", "--of", word}, "expected one of volume, abv,"},
			{[]string{"nudge", "any.yaml", "--more", word}, "expected one of abv, acid, bitter,"},
			{[]string{"pantry", "list", "--with", word + ">2"}, "expected one of abv, sugar,"},
			{[]string{"rebalance", "any.yaml", "--swap", "dry gin=vodka", "--keep", word}, "expected one of vodka, "},
			{[]string{"design", "--abv", "10", "--from", word}, "`minim pantry list` lists"},
			{[]string{"pantry", "show", word}, "`minim pantry list` lists"},
			{[]string{"design", "--" + word}, "`minim help design` lists"},
		} {
			code, _, errs := minim(t, "", c.args...)
			if said := strings.Join(strings.Fields(errs), " "); code != exitBadInput || !strings.Contains(said, c.want) || strings.Contains(said, "nearest") {
				t.Errorf("minim %q: exit code %d, %s; expected %q and no nearest", c.args, code, said, c.want)
			}
		}
	}
	for want, args := range map[string][]string{
		"nearest: acid":        {"rebalance", "any.yaml", "--ignore", "acidd"},
		"nearest: Lime juice,": {"pantry", "show", "lime jiuce"},
	} {
		if _, _, errs := minim(t, "", args...); !strings.Contains(strings.Join(strings.Fields(errs), " "), want) {
			t.Errorf("minim %q: %s; expected %q", args, errs, want)
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
