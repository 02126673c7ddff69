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
	doc    *document
	prefix string
	xfs    []int // elements; nil if there are none
	count  int   // of the styles, with the new ones
	fills  int
	fonts  int
	made   map[[2]int]int // by the style that a cell has and the kind of its mark
	filled [kinds]int     // by kind; below 0 until it is made
	added  map[string]string
	paper  map[string]int // of the first sheet
}

// sections are the parts of the styles, in their order: ISO/IEC 29500-1, 18.8.39.
func sections() []string {
	return []string{"numFmts", "fonts", "fills", "borders", "cellStyleXfs", "cellXfs", "cellStyles", "dxfs", "tableStyles", "colors", "extLst"}
}

func newStyles(doc *document) *styles {
	s := &styles{doc: doc, prefix: doc.root().prefix, made: map[[2]int]int{}, filled: [kinds]int{-1, -1, -1, -1}, added: map[string]string{}, paper: map[string]int{}}
	number := func(section, name string) []int {
		if i := doc.child(0, section); i >= 0 {
			return doc.children(i, name)
		}
		return nil
	}
	s.fonts, s.fills, s.xfs = len(number("fonts", "font")), len(number("fills", "fill")), number("cellXfs", "xf")
	if s.fonts == 0 {
		s.put("fonts", s.prefixed(`<p:font><p:sz val="11"/></p:font>`))
		s.fonts = 1
	}
	if s.fills == 0 { // the first two are fixed
		s.put("fills", s.prefixed(`<p:fill><p:patternFill patternType="none"/></p:fill><p:fill><p:patternFill patternType="gray125"/></p:fill>`))
		s.fills = 2
	}
	if len(number("borders", "border")) == 0 {
		s.put("borders", s.prefixed(`<p:border><p:left/><p:right/><p:top/><p:bottom/><p:diagonal/></p:border>`))
	}
	if len(number("cellStyleXfs", "xf")) == 0 {
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
		text = e.with(s.doc.source(s.xfs[style]), [2]string{"fillId", strconv.Itoa(s.fill(k))}, [2]string{"applyFill", "1"})
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

// font adds a font like the workbook's first, with what is said put before or in place of it.
func (s *styles) font(text string, instead ...string) int {
	own := ""
	if i := s.doc.child(0, "fonts"); i >= 0 {
		if first := s.doc.child(i, "font"); first >= 0 {
			for _, j := range s.doc.children(first, "") {
				if !slices.Contains(instead, s.doc.all[j].name) {
					own += string(s.doc.source(j))
				}
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
		font = s.font(`<p:b/><p:sz val="14"/>`, "b", "sz")
	case "heading":
		font = s.font(`<p:b/>`, "b")
	case "link":
		font = s.font(`<p:u/><p:color rgb="FF0B4F9E"/>`, "u", "color")
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
