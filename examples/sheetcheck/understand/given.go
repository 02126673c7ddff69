package understand

import (
	"cmp"
	"math/big"
	"regexp"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/calc"
	"example.com/closefit/examples/sheetcheck/pattern"
	"example.com/closefit/examples/sheetcheck/sheet"
)

// mostTitles is how many rows of a sheet may hold what is said of all of it.
const mostTitles = 8

// sheetUnit returns the unit that a sheet says all its sizes are in: "all sizes in mm"; or else the only one that it
// names anywhere near its top, or that the book names at all.
func (r *reader) sheetUnit(index int) string {
	if name, known := r.sheetUnits[index]; known {
		return name
	}
	if r.sheetUnits == nil {
		r.sheetUnits = map[int]string{}
	}
	name := r.titleUnit(index)
	if name == "" {
		name, _ = r.namedUnit(index, mostTitles)
	}
	if name == "" {
		name = r.bookUnit()
	}
	r.sheetUnits[index] = name
	return name
}

// bookUnit returns the only unit of length that the sheets of a book name.
func (r *reader) bookUnit() (name string) {
	const whole = -1 // of all sheets
	if name, known := r.sheetUnits[whole]; known {
		return name
	}
	defer func() { r.sheetUnits[whole] = name }()
	for index := range r.book.Grids {
		one, several := r.namedUnit(index, mostOver)
		if several || one != "" && name != "" && one != name {
			return ""
		}
		name = cmp.Or(name, one)
	}
	return name
}

// namedUnit returns the unit of length that the texts of a sheet's first rows and columns name, in words such as "0.02 mm"
// or "Size (mm)". Words that mean something else too, as "in" does, are none. several is whether there are others.
func (r *reader) namedUnit(index, most int) (name string, several bool) {
	_, width := r.book.Extent(index)
	for row := 1; row <= most; row++ {
		for column := 1; column <= min(width, most); column++ {
			s := spot{index, sheet.Place{Row: row, Column: column}}
			if !r.isText(s) {
				continue
			}
			for _, word := range wordsOf(r.cell(s).Text) {
				if !slices.Contains([]string{"mm", "cm", "µm", "μm", "um", "thou", "inch", "inches", "zoll", "pouces", "pulgadas"}, word) {
					continue // a yard may be where the block stands
				}
				u, _ := parseUnit(word)
				switch {
				case name != "" && u.name != name:
					return "", true
				default:
					name = u.name
				}
			}
		}
	}
	return name, false
}

// titleUnit returns the unit that a title or a cell for it says all sizes of a sheet are in.
func (r *reader) titleUnit(index int) string {
	_, width := r.book.Extent(index)
	for row := 1; row <= mostTitles; row++ {
		for column := 1; column <= min(width, mostTitles); column++ {
			s := spot{index, sheet.Place{Row: row, Column: column}}
			if !r.isText(s) {
				continue
			}
			words := wordsOf(r.cell(s).Text)
			if len(words) == 1 && slices.Contains([]string{"unit", "units", "einheit", "einheiten", "unite", "unites", "unidad", "unidades"}, words[0]) {
				if u, ok := parseUnit(r.cell(spot{index, sheet.Place{Row: row, Column: column + 1}}).Text); ok && u.dimension == "length" {
					return u.name
				}
			}
			if u, ok := partSaid(r.cell(s).Text); ok && slices.ContainsFunc(words, ofAll) {
				return u.name // "all values in 1/100 mm"
			}
			for i := 1; i+1 < len(words); i++ {
				u, ok := parseUnit(words[i+1])
				if ok && u.dimension == "length" && slices.Contains([]string{"in", "en"}, words[i]) && slices.ContainsFunc(words[:i], ofAll) {
					return u.name
				}
			}
			if row > 2 || column > 1 || !r.cell(spot{index, sheet.Place{Row: row, Column: 2}}).Blank() {
				continue
			}
			if rest, u, ok := splitUnit(r.cell(s).Text); ok && u.dimension == "length" && strings.HasSuffix(strings.TrimSpace(r.cell(s).Text), ")") && rest != "" {
				return u.name // a title, "Pistons and bores (mm)"
			}
		}
	}
	return ""
}

// partsOf finds a part of a millimetre, or of another unit of length, in a sentence.
var partsOf = regexp.MustCompile(`1/10+\s*\pL+|0[.,]0*1\s*\pL+`)

// partSaid returns the part of a unit of length that a sentence names.
func partSaid(text string) (u unit, ok bool) {
	return partOfUnit(partsOf.FindString(text))
}

// otherUnit returns the unit that a title says for the numbers of a sheet that are no lengths: the only one that the
// texts at its top spell out, as "degrees" or "grams", where none of them names a length.
func (r *reader) otherUnit(index int) (name string) {
	if r.titleUnit(index) != "" {
		return ""
	}
	if length, several := r.namedUnit(index, mostTitles); length != "" || several {
		return ""
	}
	for row := 1; row <= 3; row++ {
		s := spot{index, sheet.Place{Row: row, Column: 1}}
		if !r.isText(s) {
			continue
		}
		for _, word := range wordsOf(r.cell(s).Text) {
			u, ok := parseUnit(word)
			if !ok || len(word) < 4 || u.dimension == "length" {
				continue
			}
			if name != "" && name != u.name {
				return ""
			}
			name = u.name
		}
	}
	return name
}

// ofAll reports whether a word says that what follows is so of all numbers.
func ofAll(word string) bool {
	return slices.Contains([]string{"all", "sizes", "dimensions", "readings", "values", "alle", "werte", "valeurs", "valores", "masse", "messwerte", "langen", "lengths", "cotes", "toutes", "mesures", "dimensiones", "medidas", "todas", "cotas"}, word)
}

// defaultUnits gives the unit that a sheet says for all its sizes to those without one.
func (r *reader) defaultUnits() {
	units := map[int]string{}
	for _, t := range r.tables {
		if _, known := units[t.sheet]; !known {
			units[t.sheet] = r.sheetUnit(t.sheet)
		}
		said, column := units[t.sheet], r.unitColumn(t)
		if column != "" {
			said = column
		}
		if said == "" {
			said = r.guessedStack(t)
		}
		if r.otherUnit(t.sheet) != "" {
			continue
		}
		if part, _ := parseUnit(said); column == "" && strings.HasPrefix(part.name, "0.") { // hundredths are whole numbers
			for _, c := range t.columns {
				if c.unit == "" && c.run == nil && (c.role == "" || c.role == roleNumber || c.role == roleReading) && r.numbered(t, c.item) {
					c.unit = said
				}
			}
		}
		for _, c := range t.columns {
			if c.unit == "" && said != "" && !r.ofOwnUnits(c) && (ofLength(c.role) || c.run == nil && (c.role == "" || c.role == roleNumber) && r.fine(c) || column != "" && (c.role == "" || c.role == "difference") && r.numbered(t, c.item)) {
				c.unit = said
			}
		}
	}
}

// guessedStack returns the unit that the sizes of a stack look like where no column of the table
// has one: no block is so many inches high, and no rod so long.
func (r *reader) guessedStack(t *table) (name string) {
	const most = 30 // inches
	for _, c := range t.columns {
		switch {
		case c.unit != "":
			return ""
		case c.role != "deck" && c.role != "rod length" || r.typical(c) <= 0:
		case r.typical(c) >= most:
			name = "mm"
		default:
			name = "in"
		}
	}
	return name
}

// unitColumn returns the unit of length that a column of units says for every line.
func (r *reader) unitColumn(t *table) (name string) {
	for _, c := range t.columns {
		for i, l := range t.lines {
			u, ok := parseUnit(r.cell(spot{t.sheet, t.place(l, c.item)}).Text)
			if !ok || u.dimension != "length" || i > 0 && u.name != name {
				name = ""
				break
			}
			name = u.name
		}
		if name != "" {
			return name
		}
	}
	return ""
}

// ofLength reports whether cells of a role are lengths, whatever they are lengths of.
func ofLength(role string) bool {
	return part(role) || sized(role) || slices.Contains([]string{"end play", "side play", "deck clearance", "nominal", "tolerance", "target", "shim", "washer", "journal length", "housing width",
		"pin width", "rod width", "deck", "difference", roleBeyond, "throw", "rod length", "crown", "dial", roleGap, roleLeastGap, roleToFile, "worst case", roleSquares}, role)
}

// given names the cells outside tables that a formula reads, by the words at their left.
func (r *reader) given(f *formula) {
	f.each(func(a calc.Area) bool {
		if !a.Single() || a.File != "" {
			return true
		}
		index := f.sheet
		if a.Sheet != "" {
			other, ok := r.book.Index(a.Sheet)
			if !ok {
				return true
			}
			index = other
		}
		s := spot{index, a.From.Place}
		if r.u.roles.known(s) || r.formulas.at(s) != nil {
			return true
		}
		if _, isNumber := r.number(s); !isNumber {
			return true
		}
		words := r.beside(s)
		m := Meaning{Role: roleOf(words), Unit: r.unitBeside(s), Reason: "a formula reads it"}
		if over := roleOf(r.over(s)); (over == roleLow || over == roleHigh) && !statistic(m.Role) {
			m.Role = over // of what its row names
		}
		if factorOf(words) || r.book.Grids[s.sheet].Format(r.cell(s)).Kind == sheet.FormatPercent {
			r.u.roles.set(s, Meaning{Role: roleFactor, Reason: m.Reason})
			return true
		}
		if m.Role == "" {
			if over := r.over(s); over != "" {
				m.Role = roleOf(over)
				if _, u, ok := splitUnit(over); ok && m.Unit == "" {
					m.Unit = u.name
				}
			}
		}
		if v, _ := r.number(s); m.Role == roleCost && v < 1 {
			m.Role = roleFactor // a rate of tax
		}
		if m.Role == "" {
			m.Role = roleNumber
		}
		if m.Unit == "" && (ofLength(m.Role) || m.Role == roleTorque) && multiplies(f.expr(), a.From.Place) {
			m.Role = roleFactor
			m.Reason = "a formula multiplies by it, and no unit is said"
		}
		if m.Unit == "" && (ofLength(m.Role) || m.Role == roleNumber) {
			m.Unit = r.unitOfSum(f, s)
		}
		if m.Unit == "" && ofLength(m.Role) && m.Role != roleLow && m.Role != roleHigh {
			m.Unit = r.sheetUnit(index)
		}
		if u, ok := parseUnit(m.Unit); ok && u.dimension != "length" && part(m.Role) {
			m.Role = roleReading
		}
		r.u.roles.set(s, m)
		return true
	})
}

// multiplies reports whether a formula multiplies by a cell wherever it reads it, or divides by it.
func multiplies(e calc.Expr, at sheet.Place) bool {
	times, reads := 0, 0
	own := func(e calc.Expr) bool {
		a, ok := e.(*calc.Area)
		return ok && a.Single() && a.From.Place == at
	}
	calc.Walk(e, func(e calc.Expr) bool {
		if own(e) {
			reads++
		}
		if b, ok := e.(*calc.Binary); ok && (b.Op == calc.Multiply || b.Op == calc.Divide) {
			for _, side := range []calc.Expr{b.X, b.Y} {
				if own(side) {
					times++
				}
			}
		}
		return true
	})
	return reads > 0 && times == reads
}

// factorOf reports whether words say that a number is so much for each of something: "gap for each mm of bore", "N·m per
// ft·lb".
func factorOf(words string) bool {
	at := perUnit.FindStringIndex(words)
	if at == nil {
		return false
	}
	behind := strings.Fields(words[at[1]:])
	if len(behind) == 0 {
		return false
	}
	_, ok := parseUnit(behind[0])
	return ok
}

// over returns the words that stand over a number, with nothing but numbers between.
func (r *reader) over(s spot) string {
	for row := s.at.Row - 1; row > 0 && row > s.at.Row-mostOver; row-- {
		above := spot{s.sheet, sheet.Place{Row: row, Column: s.at.Column}}
		if r.isText(above) {
			return r.cell(above).Text
		}
		if _, ok := r.number(above); !ok || r.formulas.at(above) != nil {
			break
		}
	}
	return ""
}

// mostOver is how far above a number its heading is looked for.
const mostOver = 64

// unitOfSum returns the unit of a sum in which a cell stands as it is.
func (r *reader) unitOfSum(f *formula, s spot) string {
	l, ok := pattern.LinearOf(f.expr())
	if !ok || len(l.Terms) < 2 {
		return ""
	}
	i := slices.IndexFunc(l.Terms, func(t pattern.Term) bool { return t.Area.From.Place == s.at })
	if i < 0 {
		return ""
	}
	own := new(big.Rat).Abs(l.Terms[i].Factor)
	for _, term := range l.Terms {
		if term.Area.From.Place == s.at || term.Area.Sheet != "" || new(big.Rat).Abs(term.Factor).Cmp(own) != 0 {
			continue
		}
		if k, ok := r.kindOf(spot{f.sheet, term.Area.From.Place}); ok && k.column != nil && k.column.unit != "" {
			return k.column.unit
		}
	}
	return ""
}

// squared returns the unit of a square of a length.
func squared(e calc.Expr, unitName string) string {
	b, ok := e.(*calc.Binary)
	if !ok || b.Op != calc.Power {
		return unitName
	}
	if n, ok := b.Y.(*calc.Number); ok && n.Text == "2" {
		return unitName + "²"
	}
	return ""
}

// readAsText reports whether formulas read a column by functions of texts alone: its numbers
// are meant to be texts.
func (r *reader) readAsText(c *column) bool {
	t := c.table
	own := t.place(t.lines[0], c.item)
	as, otherwise := 0, 0
	for _, other := range t.columns {
		if other.shape == nil {
			continue
		}
		calc.Walk(other.shape, func(e calc.Expr) bool {
			switch e := e.(type) {
			case *calc.Call:
				if slices.Contains([]string{"VALUE", "NUMBERVALUE", "SUBSTITUTE", "LEFT", "RIGHT", "MID", "TRIM", "CLEAN", "LEN", "FIND", "SEARCH", "REPLACE"}, e.Name) {
					for _, a := range pattern.Areas(e) {
						if a.Sheet == "" && a.From.Place == own {
							as++
						}
					}
					return false
				}
			case *calc.Area:
				if e.Sheet == "" && (sheet.Area{First: e.From.Place, Last: e.To.Place}).Holds(own) {
					otherwise++
				}
			}
			return true
		})
	}
	return as > 0 && otherwise == 0
}
