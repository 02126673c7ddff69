package conform

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/big"
	"regexp"
	"slices"
	"strings"
)

// numberForm is a number as answers write it: a decimal, or a ratio of whole numbers. Its digits and
// its exponent are bounded before anything is computed with them.
var numberForm = regexp.MustCompile(`^[+-]?(?:\d{1,400}/\d{1,400}|(?:\d{1,400}(?:\.\d{0,400})?|\.\d{1,400})(?:[eE][+-]?\d{1,3})?)$`)

// number reads a number; ok is false if the text is none.
func number(text string) (r *big.Rat, ok bool) {
	if !numberForm.MatchString(text) {
		return nil, false
	}
	return new(big.Rat).SetString(text)
}

// compare says what is wrong with an answer: "" if nothing. Exact tells whether every number is
// the wanted one, and not only within its tolerance.
func (v Vector) compare(got map[string]any) (wrong string, exact bool) {
	exact = true
	for _, key := range slices.Sorted(maps.Keys(v.Want)) {
		value, there := got[key]
		if !there {
			return fmt.Sprintf("no %q", key), false
		}
		wrong, same := compareValue(v.Want[key], value, v.Tolerance[key])
		if wrong != "" {
			return fmt.Sprintf("%q: %s", key, wrong), false
		}
		exact = exact && same
	}
	for _, key := range []string{"none", "unsaid"} {
		if said, _ := got[key].(bool); said && v.Want[key] == nil {
			return fmt.Sprintf("%q", key), false
		}
	}
	return "", exact
}

// compareValue compares one value. Texts that are numbers are compared as numbers.
func compareValue(want, got any, tolerance string) (wrong string, exact bool) {
	text, isText := want.(string)
	wanted, isNumber := number(text)
	if !isText || !isNumber {
		if !sameAsWritten(want, got) {
			return fmt.Sprintf("wanted %s, got %s", shown(want), shown(got)), false
		}
		return "", true
	}
	digits := ""
	switch g := got.(type) {
	case string:
		digits = g
	case json.Number:
		digits = g.String()
	default:
		return fmt.Sprintf("wanted the number %s, got %s", text, shown(got)), false
	}
	r, ok := number(digits)
	if !ok {
		return fmt.Sprintf("wanted the number %s, got %s", text, shown(got)), false
	}
	off := r.Sub(r, wanted)
	if off.Sign() == 0 {
		return "", true
	}
	if allowed, ok := number(tolerance); ok && off.Abs(off).Cmp(allowed) <= 0 {
		return "", false
	}
	return fmt.Sprintf("wanted %s, got %s", within(text, tolerance), shown(got)), false
}

func within(text, tolerance string) string {
	if tolerance == "" {
		return text
	}
	return text + " within " + tolerance
}

// sameAsWritten compares words, lists and what is not there. A number in a list is compared by its digits.
func sameAsWritten(want, got any) bool {
	switch w := want.(type) {
	case []any:
		g, isList := got.([]any)
		return isList && slices.EqualFunc(w, g, sameAsWritten)
	case nil, bool:
		return want == got
	case string:
		switch g := got.(type) {
		case string:
			return w == g
		case json.Number:
			return w == g.String()
		}
	}
	return false
}

// shown is a value as a report shows it: whole if it is short, and without control characters.
func shown(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		return "what cannot be shown"
	}
	return shortened(string(b))
}

const (
	longest   = 300
	mostShown = 3000 // of a question: a few have thousands of readings
)

func shortened(text string) string { return shortenedTo(longest, text) }

func shortenedTo(most int, text string) string {
	if len(text) > most {
		text = strings.ToValidUTF8(text[:most], "") + "…"
	}
	return text
}
