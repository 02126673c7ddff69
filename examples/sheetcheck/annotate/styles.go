package annotate

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// mostStyles is how many styles of cells office programs read.
const mostStyles = 65_490

// styles adds styles of cells to those that a workbook has.
type styles struct {
	doc      *document
	prefix   string
	xfs      []int // elements; nil if there are none
	count    int   // of the styles, with the new ones
	fills    int
	fonts    int
	made     map[[2]int]int // by the style that a cell has and the kind of its mark
	filled   [kinds]int     // by kind; below 0 until it is made
	letters  []int          // elements of fonts
	darkened map[int]int    // fonts that serve in place of light ones
	added    map[string]string
	paper    map[string]int // of the first sheet
}

// sections are the parts of the styles, in their order: ISO/IEC 29500-1, 18.8.39.
func sections() []string {
	return []string{"numFmts", "fonts", "fills", "borders", "cellStyleXfs", "cellXfs", "cellStyles", "dxfs", "tableStyles", "colors", "extLst"}
}

func newStyles(doc *document) *styles {
	s := &styles{doc: doc, prefix: doc.root().prefix, made: map[[2]int]int{}, filled: [kinds]int{-1, -1, -1, -1}, added: map[string]string{}, paper: map[string]int{}, darkened: map[int]int{}}
	within := func(section, name string) []int {
		if i := doc.child(0, section); i >= 0 {
			return doc.children(i, name)
		}
		return nil
	}
	s.letters = within("fonts", "font")
	s.fonts, s.fills, s.xfs = len(s.letters), len(within("fills", "fill")), within("cellXfs", "xf")
	if s.fonts == 0 {
		s.put("fonts", s.prefixed(`<p:font><p:sz val="11"/></p:font>`))
		s.fonts = 1
	}
	if s.fills == 0 { // the first two are fixed
		s.put("fills", s.prefixed(`<p:fill><p:patternFill patternType="none"/></p:fill><p:fill><p:patternFill patternType="gray125"/></p:fill>`))
		s.fills = 2
	}
	if len(within("borders", "border")) == 0 {
		s.put("borders", s.prefixed(`<p:border><p:left/><p:right/><p:top/><p:bottom/><p:diagonal/></p:border>`))
	}
	if len(within("cellStyleXfs", "xf")) == 0 {
		s.put("cellStyleXfs", s.prefixed(`<p:xf numFmtId="0" fontId="0" fillId="0" borderId="0"/>`))
	}
	if s.count = len(s.xfs); s.count == 0 {
		s.put("cellXfs", s.prefixed(`<p:xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>`))
		s.count = 1
	}
	return s
}

// put adds to a section.
func (s *styles) put(section, text string) { s.added[section] += text }

// prefixed writes p: as the workbook writes it.
func (s *styles) prefixed(text string) string {
	return strings.ReplaceAll(strings.ReplaceAll(text, "<p:", "<"+s.prefix), "</p:", "</"+s.prefix)
}

// fill returns the fill of a kind.
func (s *styles) fill(k Kind) int {
	if s.filled[k] < 0 {
		s.put("fills", s.prefixed(`<p:fill><p:patternFill patternType="solid"><p:fgColor rgb="`+k.colour()+`"/><p:bgColor indexed="64"/></p:patternFill></p:fill>`))
		s.filled[k] = s.fills
		s.fills++
	}
	return s.filled[k]
}

// marked returns the style that a cell gets which has one already: the same, in the colour of
// the mark.
func (s *styles) marked(style int, k Kind) int {
	key := [2]int{style, int(k)}
	n, ok := s.made[key]
	if ok {
		return n
	}
	text := s.prefixed(`<p:xf numFmtId="0" fontId="0" fillId="` + strconv.Itoa(s.fill(k)) + `" borderId="0" xfId="0" applyFill="1"/>`)
	if style < len(s.xfs) {
		e := &s.doc.all[s.xfs[style]]
		set := [][2]string{{"fillId", strconv.Itoa(s.fill(k))}, {"applyFill", "1"}}
		if font := s.dark(e); font >= 0 {
			set = append(set, [2]string{"fontId", strconv.Itoa(font)}, [2]string{"applyFont", "1"})
		}
		text = e.with(s.doc.source(s.xfs[style]), set...)
	}
	s.made[key] = s.xf(text)
	return s.made[key]
}

// xf adds a style.
func (s *styles) xf(text string) int {
	s.put("cellXfs", text)
	s.count++
	return s.count - 1
}

// dark returns a font like that of a style and without its colour, if that is light: on the
// colour of a mark it could not be read. It is below 0 if the style's font serves.
func (s *styles) dark(xf *element) int {
	n, ok := number(&xf.tag, "fontId")
	if !ok || n >= len(s.letters) {
		return -1
	}
	colour := s.doc.child(s.letters[n], "color")
	if colour < 0 || !light(&s.doc.all[colour].tag) {
		return -1
	}
	if font, made := s.darkened[n]; made {
		return font
	}
	s.darkened[n] = s.font(n, "", "color")
	return s.darkened[n]
}

// light reports whether letters of a colour are too light for a light ground: ISO/IEC 29500-1,
// 18.8.3 and 18.8.27.
func light(colour *tag) bool {
	switch rgb := colour.read("rgb"); {
	case len(rgb) >= 6:
		n, err := strconv.ParseUint(rgb[len(rgb)-6:], 16, 32)
		red, green, blue := n>>16, n>>8&0xFF, n&0xFF
		return err == nil && 299*red+587*green+114*blue > 140*1000 // of 255: the weights of ITU-R BT.601
	case colour.read("theme") != "":
		return colour.read("theme") == "0" || colour.read("theme") == "2" // grounds
	}
	indexed := colour.read("indexed")
	return slices.Contains([]string{"1", "5", "7", "9", "13", "15", "65"}, indexed)
}

// font adds a font like another of the workbook, with what is said put before or in place of it.
func (s *styles) font(like int, text string, instead ...string) int {
	own := ""
	if like < len(s.letters) {
		for _, j := range s.doc.children(s.letters[like], "") {
			if !slices.Contains(instead, s.doc.all[j].name) {
				own += string(s.doc.source(j))
			}
		}
	}
	s.put("fonts", s.prefixed(`<p:font>`+text)+own+s.prefixed(`</p:font>`))
	s.fonts++
	return s.fonts - 1
}

// on returns a style of the first sheet by its name.
func (s *styles) on(name string) int {
	if n, ok := s.paper[name]; ok {
		return n
	}
	font, fill := 0, 0
	switch name {
	case "title":
		font = s.font(0, `<p:b/><p:sz val="14"/>`, "b", "sz")
	case "heading":
		font = s.font(0, `<p:b/>`, "b")
	case "link":
		font = s.font(0, `<p:u/><p:color rgb="FF0B4F9E"/>`, "u", "color")
	}
	for k := range kinds {
		if name == k.colour() {
			fill = s.fill(k)
		}
	}
	wrap := ` wrapText="1"`
	if name == "title" || name == "line" {
		wrap = ""
	}
	// 49 is the number format of texts, and with a leading quotation mark a text that begins
	// as a formula does stays a text even when it is edited
	s.paper[name] = s.xf(s.prefixed(fmt.Sprintf(`<p:xf numFmtId="49" fontId="%d" fillId="%d" borderId="0" xfId="0" quotePrefix="1" applyNumberFormat="1" applyFont="1" applyFill="1" applyAlignment="1"><p:alignment horizontal="left" vertical="top"%s/></p:xf>`, font, fill, wrap)))
	return s.paper[name]
}

// finish writes what was added into the part.
func (s *styles) finish() error {
	if s.count > mostStyles {
		return fmt.Errorf("the copy would need %d styles of cells, and office programs read %d; take out those that no cell uses", s.count, mostStyles)
	}
	counts := map[string]int{"fonts": s.fonts, "fills": s.fills, "cellXfs": s.count}
	root, last := s.doc.root(), -1
	for _, name := range sections() {
		i := s.doc.child(0, name)
		text := s.added[name]
		switch {
		case text == "":
		case i >= 0:
			s.doc.append(i, text)
			if _, _, ok := s.doc.all[i].value("count"); ok && counts[name] > 0 {
				s.doc.edits = append(s.doc.edits, s.doc.all[i].set("count", strconv.Itoa(counts[name])))
			}
		default:
			whole := "<" + s.prefix + name + ">" + text + "</" + s.prefix + name + ">"
			switch {
			case last >= 0:
				s.doc.insert(s.doc.all[last].end, whole)
			case root.closes:
				s.doc.append(0, whole)
			default:
				s.doc.insert(root.to, whole)
			}
		}
		if i >= 0 {
			last = i
		}
	}
	return nil
}
