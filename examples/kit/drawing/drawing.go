package drawing

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/closefit/examples/kit/page"
	"example.com/closefit/torque"
	"example.com/closefit/torque/ledger"
	"example.com/closefit/units"
)

// A Drawing is a picture of the bolts on one part, or of the gaps of a piston's rings, to be
// printed in black and white: on A4, or on a larger sheet where the bolts stand too close
// for that.
//
// Each bolt is a disc with its place in the order in the middle. The ring around it
// has a sector for each stage, clockwise from the top, each with the shade that
// the legend gives its stage. Where several groups share the part their numbers
// begin with a letter. Where a stage has an order of its own, it has a picture of
// its own.
type Drawing struct {
	On     string   // the part; a group's name where it names no part
	Groups []string // the groups whose bolts are in it; none of rings
	SVG    string   // an SVG element, complete, to be written to a file or into HTML
}

// Of returns a drawing of each part of the plan, in the order of its groups, with every
// stage shaded.
func Of(p *torque.Plan) []Drawing {
	return draw(p, func(int) ledger.Status { return ledger.Done })
}

// OfLedger returns the drawings of a ledger's plan with those stages shaded that are done,
// and a question mark where a bolt is in doubt.
func OfLedger(l *ledger.Ledger) []Drawing {
	doubt := map[string]bool{}
	for _, t := range l.Troubles() {
		doubt[t.Bolt] = true
	}
	return draw(l.Plan, func(number int) ledger.Status {
		if step, ok := l.Plan.Step(number); ok && doubt[step.Bolt] {
			return ledger.Unknown
		}
		return l.Status(number)
	})
}

// draw makes the drawings, with each step in the status given.
func draw(p *torque.Plan, status func(step int) ledger.Status) []Drawing {
	var drawings []Drawing
	drawn := map[string]bool{}
	for _, g := range p.Groups() {
		on := part(g)
		if drawn[on] {
			continue
		}
		drawn[on] = true
		s := newSheet(p, on, status)
		drawings = append(drawings, Drawing{On: on, Groups: s.groupNames(), SVG: s.svg()})
	}
	return drawings
}

// part returns the name of the part that the group's bolts stand on.
func part(g torque.Group) string {
	if g.On == "" {
		return g.Name
	}
	return g.On
}

// Sizes of a drawing, in its own units, of which four make a millimetre and 720 the width
// of an A4 page within its margins.
const (
	sheetWidth  = 720.0
	sheetMargin = 24.0
	discRadius  = 26.0 // of a bolt, where there is room
	apartness   = 2.9  // the least distance between bolts, in radii, that leaves room for their names
	lineHeight  = 18.0
	letters     = 100 // of the legend in a line
	tallest     = 2000.0

	// Where bolts stand so close that their numbers could not be read on A4, the sheet
	// grows, to A1 at the most.
	legible      = 12.0 // the least radius of a bolt whose number can be read
	widestSheet  = 2400.0
	tallestLarge = 3200.0
)

// sheet is a drawing being made.
type sheet struct {
	plan   *torque.Plan
	on     string
	status func(step int) ledger.Status
	parts  []*drawnGroup
	views  int // how many pictures

	page                     float64 // the width of the sheet
	scale, radius            float64 // of the pattern
	left, top, width, height float64 // the pattern's box, in micrometres
	b                        bytes.Buffer
}

// drawnGroup is a group with what its stages look like.
type drawnGroup struct {
	torque.Group
	letter string           // before its numbers; empty if the group is alone
	steps  []map[string]int // for each stage, each bolt's step
	view   []int            // for each stage, the picture that it is in
	order  []map[string]int // for each picture, each bolt's place in the order
}

// newSheet gathers what is drawn of a part.
func newSheet(p *torque.Plan, on string, status func(int) ledger.Status) *sheet {
	s := &sheet{plan: p, on: on, status: status, views: 1}
	for _, g := range p.Groups() {
		if part(g) == on {
			s.parts = append(s.parts, s.gather(g))
		}
	}
	if len(s.parts) > 1 {
		for i, g := range s.parts {
			g.letter = letter(i)
		}
	}
	s.fit()
	return s
}

// letter returns A, B, … Z, A1, …
func letter(i int) string {
	const alphabet = 26
	l := string(rune('A' + i%alphabet))
	if i >= alphabet {
		l += strconv.Itoa(i/alphabet) + "-"
	}
	return l
}

// gather finds the steps of a group's stages, and gives stages with the same order
// the same picture.
func (s *sheet) gather(g torque.Group) *drawnGroup {
	d := &drawnGroup{Group: g}
	var orders [][]string
	for range g.Stages {
		d.steps = append(d.steps, map[string]int{})
		orders = append(orders, nil)
	}
	for _, step := range s.plan.Steps() {
		if step.Group == g.Name && !step.IsPause() {
			d.steps[step.Stage-1][step.Bolt] = step.Number
			orders[step.Stage-1] = append(orders[step.Stage-1], step.Bolt)
		}
	}
	var seen [][]string
	for _, order := range orders {
		view := slices.IndexFunc(seen, func(o []string) bool { return slices.Equal(o, order) })
		if view < 0 {
			view = len(seen)
			seen = append(seen, order)
			place := map[string]int{}
			for i, bolt := range order {
				place[bolt] = i + 1
			}
			d.order = append(d.order, place)
		}
		d.view = append(d.view, view)
	}
	s.views = max(s.views, len(seen))
	return d
}

func (s *sheet) groupNames() []string {
	var names []string
	for _, g := range s.parts {
		names = append(names, g.Name)
	}
	return names
}

// fit finds the scale at which bolts do not touch one another, as far as the page
// allows, and a larger page where that leaves them too small to read.
func (s *sheet) fit() {
	var all [][2]float64
	for _, g := range s.parts {
		for _, p := range g.Pattern {
			all = append(all, [2]float64{micrometres(p.X), micrometres(p.Y)})
		}
	}
	s.left, s.top = all[0][0], all[0][1]
	right, bottom, nearest := s.left, s.top, math.Inf(1)
	for i, a := range all {
		s.left, right = min(s.left, a[0]), max(right, a[0])
		s.top, bottom = min(s.top, a[1]), max(bottom, a[1])
		for _, b := range all[i+1:] {
			// Two groups may have bolts in one place, one picture over the other.
			if d := math.Hypot(a[0]-b[0], a[1]-b[1]); d > 0 {
				nearest = min(nearest, d)
			}
		}
	}
	s.width, s.height = right-s.left, bottom-s.top
	s.page, s.radius, s.scale = sheetWidth, discRadius, 0
	if math.IsInf(nearest, 1) {
		return
	}
	s.scale = s.within(apartness*discRadius/nearest, sheetWidth, tallest)
	if legibly := apartness * legible / nearest; s.scale < legibly {
		s.scale = s.within(legibly, widestSheet, tallestLarge)
		s.page = max(sheetWidth, s.width*s.scale+around)
	}
	s.radius = min(discRadius, nearest*s.scale/apartness)
}

// micrometres returns a position in whole micrometres, as a plan takes it.
func micrometres(q units.Length) float64 { return q.In(units.Micrometre, 0).InexactFloat64() }

// around is what a sheet has on both sides of a pattern.
const around = 2*sheetMargin + 2*discRadius

// within returns the scale, or a smaller one at which the pattern is no wider and no taller
// than a sheet.
func (s *sheet) within(scale, width, height float64) float64 {
	if s.width > 0 {
		scale = min(scale, (width-around)/s.width)
	}
	if s.height > 0 {
		scale = min(scale, height/s.height)
	}
	return scale
}

// svg draws the sheet.
func (s *sheet) svg() string {
	y := sheetMargin + lineHeight
	s.text(sheetMargin, y, 16, "bold", fmt.Sprintf("%s: %s", s.plan.Name(), s.on))
	for view := range s.views {
		if s.views > 1 {
			y += 1.5 * lineHeight
			s.text(sheetMargin, y, 13, "bold", s.viewTitle(view))
		}
		y = s.pattern(view, y+lineHeight)
	}
	y = s.legend(y + lineHeight)
	for _, line := range page.Wrap(fmt.Sprintf("Plan %.12s. The engine maker's manual comes first.", s.plan.Digest()), letters) {
		y += lineHeight
		s.text(sheetMargin, y, 11, "normal", line)
	}
	return s.element(s.plan.Name()+": "+s.on, y+sheetMargin)
}

// element is the sheet as an SVG element of a height.
func (s *sheet) element(title string, height float64) string {
	scale := 180 / sheetWidth
	if s.page == sheetWidth {
		scale = min(scale, 257/height) // no taller than an A4 page leaves
	}
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%.1fmm" height="%.1fmm" viewBox="0 0 %.0f %.0f" role="img" font-family="sans-serif">`,
		s.page*scale, height*scale, s.page, height) +
		"\n<title>" + escaped(title) + "</title>\n" + shadeDefs() +
		`<rect width="100%" height="100%" fill="white"/>` + "\n" + s.b.String() + "</svg>\n"
}

// viewTitle says which stages a picture is of.
func (s *sheet) viewTitle(view int) string {
	var parts []string
	for _, g := range s.parts {
		var stages []string
		for i, v := range g.view {
			if v == view {
				stages = append(stages, strconv.Itoa(i+1))
			}
		}
		switch len(stages) {
		case 0:
		case 1:
			parts = append(parts, g.Name+", stage "+stages[0])
		default:
			parts = append(parts, g.Name+", stages "+strings.Join(stages, ", "))
		}
	}
	return strings.Join(parts, "; ")
}

// pattern draws a picture with its top at y and returns where it ends.
func (s *sheet) pattern(view int, y float64) float64 {
	x0 := (s.page - s.width*s.scale) / 2
	at := func(p torque.Position) (x, dy float64) {
		return x0 + (micrometres(p.X)-s.left)*s.scale, y + s.radius + (micrometres(p.Y)-s.top)*s.scale
	}
	for _, g := range s.parts {
		s.outlines(g, at)
	}
	for _, g := range s.parts {
		for _, place := range g.Pattern {
			x, dy := at(place)
			s.bolt(g, view, place.Bolt, x, dy)
		}
	}
	return y + s.height*s.scale + 2*s.radius + lineHeight
}

// outlines draws the parts that bolts hold together.
func (s *sheet) outlines(g *drawnGroup, at func(torque.Position) (float64, float64)) {
	type frame struct{ left, right, top, bottom float64 }
	frames := map[string]*frame{}
	var parts []string
	for _, place := range g.Pattern {
		if place.Part == "" {
			continue
		}
		x, y := at(place)
		f := frames[place.Part]
		if f == nil {
			f = &frame{x, x, y, y}
			frames[place.Part] = f
			parts = append(parts, place.Part)
		}
		f.left, f.right, f.top, f.bottom = min(f.left, x), max(f.right, x), min(f.top, y), max(f.bottom, y)
	}
	r := 1.25 * s.radius
	for _, part := range parts {
		f := frames[part]
		fmt.Fprintf(&s.b, `<rect x="%.1f" y="%.1f" width="%.1f" height="%.1f" rx="%.1f" fill="none" stroke="#666" stroke-dasharray="5 3"/>`+"\n",
			f.left-r, f.top-r, f.right-f.left+2*r, f.bottom-f.top+2*r+0.4*s.radius, r/2) // the names of the bolts are below them
	}
}

// bolt draws a bolt with the stages of one picture.
func (s *sheet) bolt(g *drawnGroup, view int, bolt string, x, y float64) {
	var stages []int
	for i, v := range g.view {
		if v == view {
			stages = append(stages, i)
		}
	}
	if len(stages) == 0 {
		fmt.Fprintf(&s.b, `<circle cx="%.1f" cy="%.1f" r="%.1f" fill="none" stroke="#666"/>`+"\n", x, y, 0.4*s.radius)
		return
	}
	doubt := false
	for i, stage := range stages {
		fill := "white"
		switch s.status(g.steps[stage][bolt]) {
		case ledger.Done:
			fill = shade(stage)
		case ledger.Unknown:
			doubt = true
		}
		s.sector(x, y, float64(i)/float64(len(stages)), float64(i+1)/float64(len(stages)), fill)
	}
	label := g.letter + strconv.Itoa(g.order[view][bolt])
	if doubt {
		label = "?"
	}
	inner := 0.62 * s.radius
	fmt.Fprintf(&s.b, `<circle cx="%.1f" cy="%.1f" r="%.1f" fill="white" stroke="black"/>`+"\n", x, y, inner)
	size := min(1.15*inner, 2.5*inner/float64(len(label)))
	fmt.Fprintf(&s.b, `<text x="%.1f" y="%.1f" font-size="%.1f" font-weight="bold" text-anchor="middle">%s</text>`+"\n",
		x, y+0.36*size, size, escaped(label))
	fmt.Fprintf(&s.b, `<text x="%.1f" y="%.1f" font-size="%.1f" text-anchor="middle">%s</text>`+"\n",
		x, y+s.radius+0.42*s.radius, s.nameSize(bolt), escaped(bolt))
}

// nameSize returns the size of letters in which a bolt's name does not run into its
// neighbours'; a letter is about half as wide as its size.
func (s *sheet) nameSize(bolt string) float64 {
	n := utf8.RuneCountInString(bolt)
	return max(0.15*s.radius, min(0.38*s.radius, 2*apartness*s.radius/float64(n+1)))
}

// sector draws a part of a bolt's disc, in turns clockwise from the top.
func (s *sheet) sector(x, y, from, to float64, fill string) {
	if to-from == 1 {
		fmt.Fprintf(&s.b, `<circle cx="%.1f" cy="%.1f" r="%.1f" fill="%s" stroke="black"/>`+"\n", x, y, s.radius, fill)
		return
	}
	point := func(turns float64) (float64, float64) {
		sin, cos := math.Sincos(2 * math.Pi * turns)
		return x + s.radius*sin, y - s.radius*cos
	}
	x1, y1 := point(from)
	x2, y2 := point(to)
	fmt.Fprintf(&s.b, `<path d="M%.1f %.1fL%.1f %.1fA%.1f %.1f 0 0 1 %.1f %.1fZ" fill="%s" stroke="black"/>`+"\n",
		x, y, x1, y1, s.radius, s.radius, x2, y2, fill)
}

// legend says what the shades mean, from y on, and returns where it ends.
func (s *sheet) legend(y float64) float64 {
	for _, g := range s.parts {
		y += lineHeight
		title := g.Name
		if g.letter != "" {
			title = g.letter + "  " + title
		}
		s.text(sheetMargin, y, 13, "bold", title)
		for _, pause := range g.First {
			y = s.note(y, "first: "+pause.String())
		}
		if g.Order == torque.CapByCap {
			y = s.note(y, "cap by cap: finish one, all stages, before the next is begun")
		}
		for i, stage := range g.Stages {
			y += lineHeight
			fmt.Fprintf(&s.b, `<rect x="%.1f" y="%.1f" width="26" height="13" fill="%s" stroke="black"/>`+"\n", sheetMargin, y-11, shade(i))
			s.text(sheetMargin+34, y, 12, "normal", s.stageLine(g, i))
			for _, pause := range stage.Then {
				y = s.note(y, "then: "+pause.String())
			}
		}
		y += lineHeight / 2
	}
	return y
}

// stageLine says what a stage is, and which steps of the plan.
func (s *sheet) stageLine(g *drawnGroup, i int) string {
	first, last := math.MaxInt, 0
	for _, number := range g.steps[i] {
		first, last = min(first, number), max(last, number)
	}
	steps := fmt.Sprintf("steps %d to %d", first, last)
	switch {
	case first == last:
		steps = fmt.Sprintf("step %d", first)
	case g.Order == torque.CapByCap:
		steps = fmt.Sprintf("cap by cap, among steps %d to %d", first, last)
	}
	line := fmt.Sprintf("%d: %s", i+1, g.Stages[i].Pull)
	if _, turns := torque.As[torque.Turn](g.Stages[i].Pull); turns {
		line = fmt.Sprintf("%d: mark, then %s", i+1, g.Stages[i].Pull)
	}
	if stage := g.Stages[i]; stage.DuringGroup != "" {
		line += fmt.Sprintf(", during stage %d of %s", stage.DuringStage, stage.DuringGroup)
	}
	return line + "  (" + steps + ")"
}

// note writes a text below a stage, in as many lines as it needs.
func (s *sheet) note(y float64, text string) float64 {
	for _, line := range page.Wrap(text, letters) {
		y += lineHeight
		s.text(sheetMargin+34, y, 12, "normal", line)
	}
	return y
}

func (s *sheet) text(x, y float64, size int, weight, text string) {
	fmt.Fprintf(&s.b, `<text x="%.1f" y="%.1f" font-size="%d" font-weight="%s">%s</text>`+"\n", x, y, size, weight, escaped(text))
}

// The shades, from light to dark, all to be told apart in black and white.
var shadeTiles = [...]string{
	`<circle cx="3" cy="3" r="0.9"/>`,
	`<path d="M-1 7L7 -1M-1 1L1 -1M5 7L7 5" stroke="black"/>`,
	`<path d="M0 3H6M3 0V6" stroke="black"/>`,
	`<rect width="6" height="6" fill="#999"/>`,
	`<path d="M-1 -1L7 7M-1 5L1 7M5 -1L7 1" stroke="black" stroke-width="2.4"/>`,
	`<rect width="6" height="6"/>`,
}

// shade returns the fill of a stage. After the last the first comes again.
func shade(stage int) string { return fmt.Sprintf("url(#shade%d)", stage%len(shadeTiles)) }

// shadeDefs defines the fills.
func shadeDefs() string {
	var b strings.Builder
	b.WriteString("<defs>\n")
	for i, tile := range shadeTiles {
		fmt.Fprintf(&b, `<pattern id="shade%d" width="6" height="6" patternUnits="userSpaceOnUse"><rect width="6" height="6" fill="white"/>%s</pattern>`+"\n", i, tile)
	}
	b.WriteString("</defs>\n")
	return b.String()
}

// escaped returns a text as XML has it.
func escaped(text string) string { return page.Join(page.Text(text)).String() }
