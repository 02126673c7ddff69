package grading

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// A Row is a row of grade codes as it is stamped on a block, a crank or a set of rods,
// with the facts that help to read it.
type Row struct {
	Text      string   `json:"text"`      // as stamped: "ABBAC", "A B B A C", "12-11-?-12"
	Side      Side     `json:"side"`      // whose codes they are
	Locations []string `json:"locations"` // in the order in which the engine numbers them
	Codes     []string `json:"codes"`     // that the scheme holds for this side

	// From is the end of the engine at which the row begins as it is typed: its first or
	// its last location, to which its first code belongs. The codes of a row that reads
	// validly from either end stay open until From or a mark says where it begins.
	From string `json:"from"`

	// Mark is a mark that the manual shows at one end of the row, and MarkAt the location
	// at that end of the engine: it tells where the row begins. Read leaves a mark
	// without a known place out of the codes.
	Mark   string `json:"mark"`
	MarkAt string `json:"mark_at"`

	// Upright says that the row is known to be read the right way up. It counts only if
	// every character is also one upside down (6 and 9, M and W).
	Upright bool `json:"upright"`

	// Ground is the undersize family of a crank whose codes were stamped after it was
	// ground; empty for codes that are as old as the crank.
	Ground string `json:"ground"`
}

// illegible is written for a code that cannot be read.
const illegible = "?"

// A Stamp is the code of one location.
type Stamp struct {
	Location string   `json:"location"`
	Code     string   `json:"code"`     // as stamped; "?" if nothing of it can be read
	Possible []string `json:"possible"` // the codes of the scheme that it can be: one, unless it is illegible
}

// Read reads the row. Codes may be separated by spaces, ends of lines, commas,
// semicolons, colons, strokes, dots or hyphens, if no code of the scheme has that
// character in it; or stand close together, or in groups. A "?" is an illegible code; in
// a code of several characters that stands apart ("1?") it is one illegible character.
// Capitals count only if the scheme needs them. Characters at the end that are not codes
// are marks.
//
// The error is of kind ErrCodes for a code that is not in the scheme, for more or fewer
// codes than locations, or none; for codes that stand close together and can be divided
// in more than one way; for a mark that is also a code and can stand at either end, or
// that contradicts From; for a row without a Side; and for a text of more than 256 bytes.
// It is of kind ErrLocations without locations, or with one named twice.
func (r Row) Read() (RowReading, error) {
	switch {
	case r.Side != Housing && r.Side != Journal:
		return RowReading{}, r.fault("say whether they are housing or journal codes", "no side")
	case len(r.Text) > maxText:
		return RowReading{}, r.fault(fmt.Sprintf("%d is the most", maxText), "%d bytes", len(r.Text))
	case len(r.Locations) == 0:
		return RowReading{}, fault(ErrLocations, r.place(), "name them in the order of the engine", "no location")
	case twice(r.Locations) != nil:
		return RowReading{}, fault(ErrLocations, r.place(), "name each once", "location %q stands in the list twice", *twice(r.Locations))
	case len(r.words()) == 0:
		return RowReading{}, r.fault("write the codes as they are stamped, and ? in the place of one that cannot be read", "no codes")
	}
	for _, end := range []string{r.From, r.MarkAt} {
		if first, last := r.Locations[0], r.Locations[len(r.Locations)-1]; end != "" && end != first && end != last {
			return RowReading{}, r.fault(fmt.Sprintf("a row begins at one of its ends: write %q or %q", first, last), "location %q", end)
		}
	}
	row, reading, err := r.unmarked()
	if err != nil {
		return RowReading{}, err
	}
	reading.Row = r
	reading.Others = row.others(reading.Stamps)
	for i := range reading.Others {
		reading.Others[i].Row = r
	}
	reading.Tell = row.tell(reading)
	return reading, nil
}

// twice returns a name that stands in the list twice; nil if none does.
func twice(names []string) *string {
	seen := map[string]bool{}
	for i, name := range names {
		if seen[name] {
			return &names[i]
		}
		seen[name] = true
	}
	return nil
}

const separators = " \t\r\n,;:/.-|·–"

// words divides the text at its separators.
func (r Row) words() []string {
	return strings.FieldsFunc(r.Text, r.separates)
}

// separates reports whether the character stands between codes.
func (r Row) separates(c rune) bool {
	return strings.ContainsRune(separators, c) && !strings.ContainsRune(r.Mark, c) &&
		!slices.ContainsFunc(r.Codes, func(code string) bool { return strings.ContainsRune(code, c) })
}

// readWords reads each word as a code; or all of them together, if there is one alone, or
// one of them is no code and they are not as many as the locations.
func (r Row) readWords(words []string) (RowReading, error) {
	noCode := slices.ContainsFunc(words, func(w string) bool { return len(r.possible(w)) == 0 })
	alone := len(words) == 1 && (len(r.Locations) != 1 || noCode)
	kept, marks := words, []string(nil)
	// A last word too many that is no code is a mark.
	for len(kept) > len(r.Locations) && len(r.possible(kept[len(kept)-1])) == 0 {
		marks = append([]string{kept[len(kept)-1]}, marks...)
		kept = kept[:len(kept)-1]
	}
	if alone || noCode && len(kept) != len(r.Locations) { // "ABBAC", "ABBAC X" or "ABB AC"
		together := strings.Join(words, "")
		divided, rest, err := r.readTogether(together)
		switch {
		case err != nil:
			return RowReading{}, err
		case divided != nil:
			return r.stamps(divided, rest)
		case alone:
			return r.stamps(r.longest(together), nil)
		}
	}
	return r.stamps(kept, marks)
}

// readTogether divides a text into as many codes as there are locations, and marks after
// them; there are no codes if it cannot be divided. The error is for a text that can be
// divided in more than one way.
func (r Row) readTogether(text string) (codes, marks []string, err error) {
	ends := r.ends(text, len(r.Locations))
	for end := len(text); end > 0; end-- {
		rest := text[end:]
		if !ends[end] || r.isCodes(rest) {
			continue
		}
		divisions := r.divide(text[:end], len(r.Locations))
		for other := 1; other <= end; other++ {
			// "11" is 1 and 1 for two locations; or 11, and a code was left out.
			if other != len(r.Locations) {
				divisions = append(divisions, r.divide(text[:end], other)...)
			}
			if len(divisions) > 1 {
				return nil, nil, r.fault("write it with spaces between the codes, and ? in the place of each that cannot be read",
					"it can be %s, or %s", strings.Join(divisions[0], " "), strings.Join(divisions[1], " "))
			}
		}
		for _, c := range rest {
			marks = append(marks, string(c))
		}
		return divisions[0], marks, nil
	}
	return nil, nil, nil
}

// maxText bounds a row, in bytes: no crankshaft comes near.
const maxText = 256

// ends tells for each byte of the text whether n codes can end before it.
func (r Row) ends(text string, n int) []bool {
	at := make([]bool, len(text)+1)
	at[0] = true
	for range n {
		next := make([]bool, len(text)+1)
		for i, here := range at {
			if !here {
				continue
			}
			for _, size := range r.beginnings(text[i:]) {
				next[i+size] = true
			}
		}
		at = next
	}
	return at
}

// divide returns how the text can be divided into n codes, in two ways at the most.
func (r Row) divide(text string, n int) [][]string {
	// dead[i][k]: the text from byte i on cannot be divided into k codes.
	dead := map[[2]int]bool{}
	var all [][]string
	var codes []string
	var follow func(from, left int) bool
	follow = func(from, left int) bool {
		if left == 0 {
			if from == len(text) {
				all = append(all, slices.Clone(codes))
			}
			return from == len(text)
		}
		if dead[[2]int{from, left}] {
			return false
		}
		any := false
		for _, size := range r.beginnings(text[from:]) {
			codes = append(codes, text[from:from+size])
			any = follow(from+size, left-1) || any
			codes = codes[:len(codes)-1]
			if len(all) > 1 {
				return true
			}
		}
		dead[[2]int{from, left}] = !any
		return any
	}
	follow(0, n)
	return all
}

// beginnings returns the sizes of the codes with which the text begins.
func (r Row) beginnings(text string) []int {
	var sizes []int
	if strings.HasPrefix(text, illegible) {
		sizes = append(sizes, len(illegible))
	}
	for _, code := range r.Codes {
		if len(code) <= len(text) && code != "" && r.same(text[:len(code)], code) && !slices.Contains(sizes, len(code)) {
			sizes = append(sizes, len(code))
		}
	}
	return sizes
}

// isCodes reports whether the text is one or more codes.
func (r Row) isCodes(text string) bool {
	at := make([]bool, len(text)+1)
	at[0] = true
	for i, here := range at {
		if !here {
			continue
		}
		for _, size := range r.beginnings(text[i:]) {
			at[i+size] = true
		}
	}
	return text != "" && at[len(text)]
}

// longest divides the text greedily, for telling what was found: the longest
// code that fits, or one character.
func (r Row) longest(text string) []string {
	var words []string
	for text != "" {
		sizes := r.beginnings(text)
		_, size := utf8.DecodeRuneInString(text)
		if len(sizes) > 0 {
			size = slices.Max(sizes)
		}
		words = append(words, text[:size])
		text = text[size:]
	}
	return words
}

// same reports whether the text is the code, capitals aside where the scheme's
// codes do not differ in them.
func (r Row) same(text, code string) bool {
	if text == code {
		return true
	}
	if !strings.EqualFold(text, code) || slices.Contains(r.Codes, text) {
		return false
	}
	for _, other := range r.Codes {
		if other != code && strings.EqualFold(other, code) {
			return false
		}
	}
	return true
}

// possible returns the codes that a word can be.
func (r Row) possible(word string) []string {
	if word == illegible {
		return slices.Clone(r.Codes)
	}
	var codes []string
	for _, code := range r.Codes {
		if r.same(word, code) || strings.Contains(word, illegible) && fits(word, code) {
			codes = append(codes, code)
		}
	}
	return codes
}

// fits reports whether the code has the word's characters where they are legible.
func fits(word, code string) bool {
	w, c := []rune(word), []rune(code)
	if len(w) != len(c) {
		return false
	}
	for i := range w {
		if string(w[i]) != illegible && w[i] != c[i] {
			return false
		}
	}
	return true
}

// stamps gives each location its word.
func (r Row) stamps(words, marks []string) (RowReading, error) {
	if len(words) != len(r.Locations) {
		var unknown []string
		for _, word := range words {
			if len(r.possible(word)) == 0 {
				unknown = append(unknown, word)
			}
		}
		return RowReading{}, r.codeCount(words, unknown, r.Locations)
	}
	if last := r.Locations[len(r.Locations)-1]; r.From == last && last != r.Locations[0] {
		words = reversed(words)
	}
	reading := RowReading{Marks: marks}
	for i, word := range words {
		s := Stamp{Location: r.Locations[i], Code: word, Possible: r.possible(word)}
		if len(s.Possible) == 0 {
			return RowReading{}, unknownCode(s.Location, r.Side, word, r.Codes)
		}
		if !strings.Contains(word, illegible) {
			s.Code = s.Possible[0]
		}
		reading.Stamps = append(reading.Stamps, s)
	}
	return reading, nil
}
