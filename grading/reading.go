package grading

import (
	"fmt"
	"slices"
	"strings"
)

// A RowReading is a row as it was read. If Others disagree about a location it is open:
// Assign keeps every pair of shells that one of them calls for.
type RowReading struct {
	Row    Row      `json:"row"`
	Stamps []Stamp  `json:"stamps"` // as typed, in the order of the locations
	Marks  []string `json:"marks"`  // characters beside the codes

	// Others are the other possible readings of the row, which give every location a code
	// of the scheme and at least one location another code. They hold Stamps, and how the
	// row is read: Reversed, from the other end of the engine, or UpsideDown, with its
	// characters on their heads (6 is 9, M is W).
	Others     []RowReading `json:"others"`
	Reversed   bool         `json:"reversed"`
	UpsideDown bool         `json:"upside_down"`

	// Tell names locations that tell Stamps and Others apart: any two readings that
	// differ somewhere differ at one of these. They are the fewest, if three are enough;
	// of equally few, those whose codes lie the most steps of the scheme apart, and then
	// the first. Illegible codes differ if they cannot be the same.
	Tell []string `json:"tell"`
}

// unmarked reads the row without its mark. The row that it returns begins where
// the mark, if there is one, tells.
func (r Row) unmarked() (Row, RowReading, error) {
	if r.Mark == "" {
		if r.MarkAt != "" {
			return r, RowReading{}, r.fault("write the mark as it looks, such as *", "the place of a mark without the mark")
		}
		reading, err := r.readWords(r.words())
		return r, reading, err
	}
	text := strings.TrimFunc(r.Text, r.separates)
	type side struct {
		text     string
		from     string
		contrary bool
	}
	try := []side{}
	atFront, isFront := strings.CutPrefix(text, r.Mark)
	atBack, isBack := strings.CutSuffix(text, r.Mark)
	isCode := r.isCodes(r.Mark)
	if isFront {
		try = append(try, side{text: atFront, from: r.MarkAt})
	}
	if isBack {
		try = append(try, side{text: atBack, from: r.otherEnd(r.MarkAt)})
	}
	if isCode || !isFront && !isBack {
		try = append(try, side{text: text})
	}
	if isFront && isBack && !isCode {
		return r, RowReading{}, r.fault("leave Mark out, and say where the row begins", "the mark %q stands at both ends", r.Mark)
	}
	var found []RowReading
	var rows []Row
	var first error
	for _, t := range try {
		row := r
		row.Text = t.text
		if t.from != "" {
			if r.From != "" && r.From != t.from {
				t.contrary = true
			}
			row.From = t.from
		}
		reading, err := row.readWords(row.words())
		if err == nil && t.contrary {
			err = r.fault("look which is right, and leave the other out", "it is said to begin with %s, but by its mark %q it begins with %s", r.From, r.Mark, t.from)
		}
		if err != nil {
			if first == nil {
				first = err
			}
			continue
		}
		if len(found) > 0 && alike(found[0].Stamps, reading.Stamps) {
			continue // wherever the mark is, the codes are the same
		}
		if t.text != text {
			reading.Marks = append(reading.Marks, r.Mark)
		}
		found, rows = append(found, reading), append(rows, row)
	}
	switch {
	case len(found) == 0:
		return r, RowReading{}, first
	case len(found) > 1:
		return r, RowReading{}, r.fault("leave the mark out, and say where the row begins", "the mark %q is a code too, and it can be %s, or %s", r.Mark, codesIn(found[0].Stamps), codesIn(found[1].Stamps))
	}
	return rows[0], found[0], nil
}

// otherEnd returns the location at the other end of the row; nothing for nothing.
func (r Row) otherEnd(end string) string {
	switch first, last := r.Locations[0], r.Locations[len(r.Locations)-1]; end {
	case "":
		return ""
	case first:
		return last
	default:
		return first
	}
}

// others returns the other ways to read a row that was read as stamps.
func (r Row) others(stamps []Stamp) []RowReading {
	words := make([]string, len(stamps))
	for i, s := range stamps {
		words[i] = s.Code
	}
	var list []RowReading
	consider := func(words []string, reverse, upsideDown bool) {
		if reverse {
			words = reversed(words)
		}
		plain := r
		plain.From = r.Locations[0]
		other, err := plain.stamps(words, nil)
		if err != nil || alike(other.Stamps, stamps) ||
			slices.ContainsFunc(list, func(a RowReading) bool { return alike(a.Stamps, other.Stamps) }) {
			return
		}
		list = append(list, RowReading{Reversed: reverse, UpsideDown: upsideDown, Stamps: other.Stamps})
	}
	if r.From == "" {
		consider(words, true, false)
	}
	if turned, ok := upsideDown(words); ok && !r.Upright {
		consider(turned, false, true)
		if r.From == "" {
			consider(turned, true, true)
		}
	}
	return list
}

// alike reports whether two readings leave the same codes possible everywhere.
func alike(a, b []Stamp) bool {
	return slices.EqualFunc(a, b, func(s, t Stamp) bool { return slices.Equal(s.Possible, t.Possible) })
}

func reversed(words []string) []string {
	words = slices.Clone(words)
	slices.Reverse(words)
	return words
}

// upsideDown returns what each word reads upside down. ok is false if one is then
// no word.
func upsideDown(words []string) (turned []string, ok bool) {
	for _, w := range words {
		runes := []rune(w)
		slices.Reverse(runes)
		for i, c := range runes {
			at := strings.IndexRune("0168HINOSXZ9MW?", c)
			if at < 0 {
				return nil, false
			}
			runes[i] = rune("0198HINOSXZ6WM?"[at])
		}
		turned = append(turned, string(runes))
	}
	return turned, true
}

// tell returns RowReading.Tell.
func (r Row) tell(reading RowReading) []string {
	all := [][]Stamp{reading.Stamps}
	for _, a := range reading.Others {
		all = append(all, a.Stamps)
	}
	// steps holds, for each location that differs from those before it, how far apart
	// any two of all are there; most, how far they are anywhere.
	var at []int
	var steps [][]int
	var most []int
	for i := range reading.Stamps {
		var here []int
		for a := range all {
			for b := range a {
				here = append(here, r.apart(all[a][i], all[b][i]))
			}
		}
		if len(here) > 0 && slices.Max(here) > 0 && !slices.ContainsFunc(steps, func(s []int) bool { return slices.Equal(s, here) }) {
			at, steps = append(at, i), append(steps, here)
			most = farthest(most, here)
		}
	}
	if len(steps) == 0 {
		return nil
	}
	chosen := choose(steps, most)
	names := make([]string, len(chosen))
	for k, i := range chosen {
		names[k] = reading.Stamps[at[i]].Location
	}
	return names
}

// choose returns the places in steps that reach every number that is not zero in
// most: the fewest up to three, else those that add the most, one by one.
func choose(steps [][]int, most []int) []int {
	const tried = 3
	var best []int
	for n := 1; n <= tried && best == nil; n++ {
		least := 0
		var extend func(from int, chosen, reached []int)
		extend = func(from int, chosen, reached []int) {
			if len(chosen) == n {
				if l := leastReached(reached, most); l > least {
					least, best = l, slices.Clone(chosen)
				}
				return
			}
			for i := from; i < len(steps); i++ {
				extend(i+1, append(chosen, i), farthest(reached, steps[i]))
			}
		}
		extend(0, nil, nil)
	}
	if best != nil {
		return best
	}
	var reached []int
	for leastReached(reached, most) == 0 {
		next, more := 0, -1
		for i, s := range steps {
			added := 0
			for k, d := range s {
				if d > 0 && (reached == nil || reached[k] == 0) {
					added++
				}
			}
			if added > more {
				next, more = i, added
			}
		}
		best, reached = append(best, next), farthest(reached, steps[next])
	}
	slices.Sort(best)
	return best
}

// farthest returns the larger of each two numbers. No a at all counts as zeros.
func farthest(a, b []int) []int {
	c := slices.Clone(b)
	for k, d := range a {
		c[k] = max(c[k], d)
	}
	return c
}

// leastReached returns the smallest number of steps among the pairs of ways that
// can be told apart at all; 0 if one of them is not.
func leastReached(reached, most []int) int {
	if reached == nil {
		return 0
	}
	least := -1
	for k, d := range reached {
		if most[k] > 0 && (least < 0 || d < least) {
			least = d
		}
	}
	return least
}

// apart returns how many steps of the scheme's codes lie between two stamps at the
// least; 0 if they can be the same code.
func (r Row) apart(a, b Stamp) int {
	least := len(r.Codes)
	for _, x := range a.Possible {
		for _, y := range b.Possible {
			d := slices.Index(r.Codes, x) - slices.Index(r.Codes, y)
			least = min(least, max(d, -d))
		}
	}
	return least
}

// merged returns, for each location, a stamp with the codes of every way to read
// the row.
func (r RowReading) merged() []Stamp {
	list := slices.Clone(r.Stamps)
	for i := range list {
		s := &list[i]
		s.Possible = slices.Clone(s.Possible)
		for _, other := range r.Others {
			o := other.Stamps[i]
			for _, code := range o.Possible {
				if !slices.Contains(s.Possible, code) {
					s.Possible = append(s.Possible, code)
				}
			}
			if !slices.Contains(strings.Split(s.Code, " or "), o.Code) {
				s.Code += " or " + o.Code
			}
		}
	}
	return list
}

// Question says in how many ways the row can be read, which codes they give where, and
// where to look to tell them apart; the example of Row.Read prints one. It is empty if
// the row can be read in one way alone.
func (r RowReading) Question() string {
	if len(r.Others) == 0 {
		return ""
	}
	text := fmt.Sprintf("%s codes %q can be read in more than one way: %s", r.Row.Side, r.Row.Text, codesIn(r.Stamps))
	ends, upright := false, false
	for _, a := range r.Others {
		text += ", or " + a.how() + " " + codesIn(a.Stamps)
		ends, upright = ends || a.Reversed, upright || a.UpsideDown
	}
	text += ". "
	for _, location := range r.Tell {
		i := slices.IndexFunc(r.Stamps, func(s Stamp) bool { return s.Location == location })
		codes := []string{r.Stamps[i].Code}
		for _, a := range r.Others {
			if c := a.Stamps[i].Code; !slices.Contains(codes, c) {
				codes = append(codes, c)
			}
		}
		text += fmt.Sprintf("At %s the code is %s accordingly. ", location, strings.Join(codes, " or "))
	}
	var find []string
	if ends {
		find = append(find, "to which location the first code belongs")
	}
	if upright {
		find = append(find, "which way up the row stands")
	}
	text += "Find in the manual " + strings.Join(find, " and ")
	if len(r.Marks) > 0 && r.Row.MarkAt == "" {
		text += fmt.Sprintf(" (the mark %s may show it)", strings.Join(r.Marks, " "))
	}
	if len(r.Tell) > 0 {
		return text + fmt.Sprintf(", or measure the %s at %s and compare it with the sizes of these codes", r.Row.Side, strings.Join(r.Tell, " and "))
	}
	return text + "; the codes that are legible do not tell"
}

func (a RowReading) how() string {
	switch {
	case a.Reversed && a.UpsideDown:
		return "upside down and from the other end"
	case a.UpsideDown:
		return "upside down"
	}
	return "from the other end"
}

func codesIn(stamps []Stamp) string {
	words := make([]string, len(stamps))
	for i, s := range stamps {
		words[i] = s.Code
	}
	return strings.Join(words, " ")
}

// check returns an error unless the reading is one of the side, in which every
// location has a code.
func (r RowReading) check(side Side) error {
	if r.Row.Side == "" {
		return r.Row.fault("read the row with Row.Read", "no reading, where that of the %s codes belongs", side)
	}
	if r.Row.Side != side {
		return r.Row.fault("exchange the two sides", "given where %s codes belong", side)
	}
	if len(r.Stamps) == 0 {
		return r.Row.fault("", "read the row first")
	}
	for _, a := range append([]RowReading{{Stamps: r.Stamps}}, r.Others...) {
		if len(a.Stamps) != len(r.Stamps) {
			return r.Row.codeCount(strings.Fields(codesIn(a.Stamps)), nil, locationsOf(r.Stamps))
		}
		for _, s := range a.Stamps {
			if len(s.Possible) == 0 {
				return r.Row.fault("write ? for a code that cannot be read, and read the row again", "%s has no possible code", s.Location)
			}
		}
	}
	return nil
}

func locationsOf(stamps []Stamp) []string {
	names := make([]string, len(stamps))
	for i, s := range stamps {
		names[i] = s.Location
	}
	return names
}
