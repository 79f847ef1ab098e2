package pantry

import (
	"bytes"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Fold returns the form in which names are compared: small letters without
// accents or apostrophes, hyphens and underscores as single spaces, no space
// before a percent sign, and each word in the singular. Equal folds are the
// same name; nothing is matched by its beginning.
func Fold(name string) string {
	var space [96]byte
	folded, word := space[:0], 0 // word is where the last word starts
	for _, r := range name {
		switch {
		case 'a' <= r && r <= 'z' || '0' <= r && r <= '9':
			folded = append(folded, byte(r))
		case 'A' <= r && r <= 'Z':
			folded = append(folded, byte(r)+'a'-'A')
		case r >= 0x0300 && r <= 0x036F, r == '\'', r == '’':
			// combining accents and apostrophes fall away
		case r == '-', r == '_', r == '‐', r == '‑', r == '–', unicode.IsSpace(r), isControl(r):
			folded, word = endWord(folded, word)
		default:
			r = unicode.ToLower(r)
			if plain, accented := plainLetters[r]; accented {
				folded = append(folded, plain...)
			} else {
				folded = utf8.AppendRune(folded, r)
			}
		}
	}
	folded, _ = endWord(folded, word)
	return string(bytes.TrimSuffix(folded, []byte(" ")))
}

// endWord puts the word that starts at that place into the singular and a space
// after it, and takes away the space before a percent sign.
func endWord(folded []byte, word int) (longer []byte, next int) {
	if len(folded) == word {
		return folded, word
	}
	cut, ending := plural(folded[word:])
	folded = append(folded[:len(folded)-cut], ending...)
	if word > 0 && folded[word] == '%' {
		folded = append(folded[:word-1], folded[word:]...)
	}
	folded = append(folded, ' ')
	return folded, len(folded)
}

// plainLetters are the accented letters of western European menus.
var plainLetters = map[rune]string{
	'à': "a", 'á': "a", 'â': "a", 'ã': "a", 'ä': "a", 'å': "a", 'æ': "ae", 'ç': "c",
	'è': "e", 'é': "e", 'ê': "e", 'ë': "e", 'ì': "i", 'í': "i", 'î': "i", 'ï': "i",
	'ñ': "n", 'ò': "o", 'ó': "o", 'ô': "o", 'õ': "o", 'ö': "o", 'ø': "o", 'œ': "oe",
	'ù': "u", 'ú': "u", 'û': "u", 'ü': "u", 'ý': "y", 'ÿ': "y", 'ß': "ss", 'ž': "z",
	'š': "s", 'č': "c", 'ō': "o", 'ū': "u",
}

// singular cuts the plural off one word in small letters. It need not be good
// English, only the same for both numbers: cherry, cherries; dash, dashes.
func singular(w string) string {
	cut, ending := plural([]byte(w))
	return w[:len(w)-cut] + ending
}

// plural returns how many letters at the end of a word make it a plural, and
// what stands there in the singular.
func plural(w []byte) (cut int, ending string) {
	switch last := w[max(0, len(w)-1):]; {
	case string(last) != "s" && string(last) != "e":
		return 0, ""
	case len(w) > 4 && endsIn(w, "ies"):
		return 3, "y"
	case len(w) > 4 && endsIn(w, "ie"):
		return 2, "y"
	case len(w) > 4 && endsIn(w, "shes", "ches", "sses", "xes", "zes", "oes"):
		return 2, ""
	case len(w) > 3 && endsIn(w, "s") && !endsIn(w, "ss", "us", "is"):
		return 1, ""
	default:
		return 0, ""
	}
}

func endsIn(w []byte, suffixes ...string) bool {
	for _, s := range suffixes {
		if len(w) >= len(s) && string(w[len(w)-len(s):]) == s {
			return true
		}
	}
	return false
}

// isControl tells whether a character moves a terminal rather than printing.
func isControl(r rune) bool {
	return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || r == '\uFEFF'
}

// Nearest returns up to most of the words in among that look most like word:
// first those that begin with it or hold it as a whole word, then by edit
// distance between their folds (insertion, deletion, replacement and the swap of
// two neighbours each count one), equals in the order of among. Words with the
// same fold are given once.
func Nearest(word string, among []string, most int) []string {
	target := []rune(Fold(word))
	type candidate struct {
		word     string
		apart    bool
		distance int
	}
	seen := map[string]bool{}
	var candidates []candidate
	for _, w := range among {
		folded := Fold(w)
		if seen[folded] {
			continue
		}
		seen[folded] = true
		candidates = append(candidates, candidate{w, !holds(folded, string(target)), editDistance(target, []rune(folded))})
	}
	slices.SortStableFunc(candidates, func(a, b candidate) int {
		if a.apart != b.apart {
			if a.apart {
				return 1
			}
			return -1
		}
		return a.distance - b.distance
	})
	var nearest []string
	for _, c := range candidates[:min(max(most, 0), len(candidates))] {
		nearest = append(nearest, c.word)
	}
	return nearest
}

// holds tells whether a fold begins with another or holds it as whole words; of
// fewer than three letters that says nothing.
func holds(folded, word string) bool {
	return utf8.RuneCountInString(word) >= 3 && (strings.HasPrefix(folded, word) || strings.Contains(" "+folded+" ", " "+word+" "))
}

// NearestWithin returns those of Nearest that hold the word, or that half of
// their letters or more agree with: an edit distance of half the longer fold at
// most.
func NearestWithin(word string, among []string, most int) []string {
	target := []rune(Fold(word))
	return slices.DeleteFunc(Nearest(word, among, most), func(near string) bool {
		folded := []rune(Fold(near))
		return !holds(string(folded), string(target)) && 2*editDistance(target, folded) > max(len(target), len(folded))
	})
}

// Suggest says what may have been meant by a word that is none of those in
// among: "nearest: " up to most of NearestWithin or, where none is near,
// "expected one of " all.
func Suggest(word string, among []string, most int) string {
	if near := NearestWithin(word, among, most); len(near) > 0 {
		return "nearest: " + strings.Join(near, ", ")
	}
	return "expected one of " + strings.Join(among, ", ")
}

// editDistance is the optimal string alignment distance.
func editDistance(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
