package sheet

import (
	"cmp"
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"
)

// documentStyles are the styles of an OpenDocument sheet that say something of cells.
type documentStyles struct {
	formats     map[string]Format
	cells       map[string]documentStyle
	undisplayed map[string]bool // styles of sheets that are hidden
	numbers     map[string]uint16
	all         []style // by number
}

// A documentStyle is what a style of cells says, and the style that says the rest.
type documentStyle struct {
	parent, format string
	protect        string // as written; empty if it does not say
}

func newDocumentStyles() *documentStyles {
	s := &documentStyles{formats: map[string]Format{}, cells: map[string]documentStyle{}, undisplayed: map[string]bool{}, numbers: map[string]uint16{}}
	s.number("")
	return s
}

// number returns the number of a style, by which cells name it.
func (s *documentStyles) number(name string) uint16 {
	n, ok := s.numbers[name]
	if !ok && len(s.all) < mostStyles {
		n = uint16(len(s.all))
		s.numbers[name] = n
		s.all = append(s.all, s.resolve(name))
	}
	return n
}

// resolve looks through a style and those that it stands on: its parents, the style called
// Default, and the default of all, which has no name.
func (s *documentStyles) resolve(name string) style {
	if name == "" {
		name = "Default"
	}
	format, protect := "", ""
	for range deepest {
		own := s.cells[name]
		format, protect = cmp.Or(format, own.format), cmp.Or(protect, own.protect)
		switch {
		case own.parent != "":
			name = own.parent
		case name != "Default":
			name = "Default"
		default:
			name = ""
		}
	}
	found := style{format: general(), free: protect == "none" || protect == "formula-hidden"}
	if f, ok := s.formats[format]; ok {
		found.format = f
	}
	return found
}

// enough returns a *BoundError if there are too many styles.
func (s *documentStyles) enough() error {
	if len(s.formats)+len(s.cells) < mostStyles {
		return nil
	}
	return &BoundError{What: fmt.Sprintf("more than %d styles", mostStyles), Most: "that many are read"}
}

// cellStyle reads a style of cells or of a sheet.
func (s *documentStyles) cellStyle(p *xmlPart, e *xml.StartElement) error {
	name, family := prefixed(e, "style:name"), prefixed(e, "style:family")
	own := documentStyle{parent: prefixed(e, "style:parent-style-name"), format: prefixed(e, "style:data-style-name")}
	if err := s.enough(); err != nil {
		return err
	}
	for depth := len(p.open); ; {
		token, err := p.next()
		if err != nil {
			return err
		}
		switch t := token.(type) {
		case xml.EndElement:
			if len(p.open) < depth {
				if family == "table-cell" {
					s.cells[name] = own
				}
				return nil
			}
		case xml.StartElement:
			switch full(t.Name) {
			case "style:table-properties":
				if prefixed(&t, "table:display") == "false" {
					s.undisplayed[name] = true
				}
			case "style:table-cell-properties":
				if protect := prefixed(&t, "style:cell-protect"); protect != "" {
					own.protect = protect
				}
			}
		}
	}
}

// numberStyle reads how a number is shown. Where a style is for some numbers alone, that for
// numbers above zero counts.
func (s *documentStyles) numberStyle(p *xmlPart, e *xml.StartElement) error {
	name := prefixed(e, "style:name")
	if err := s.enough(); err != nil {
		return err
	}
	f := general()
	switch e.Name.Local {
	case "percentage-style":
		f.Kind = FormatPercent
	case "date-style", "time-style":
		f.Kind = FormatDate
	case "text-style":
		f.Kind = FormatText
	}
	var unit strings.Builder
	digits, inText := false, false
	above := ""
	for depth := len(p.open); ; {
		token, err := p.next()
		if err != nil {
			return err
		}
		switch t := token.(type) {
		case xml.EndElement:
			inText = false
			if len(p.open) >= depth {
				continue
			}
			if f.Kind != FormatDate && f.Kind != FormatText {
				f.Unit = strings.TrimSpace(strings.ReplaceAll(unit.String(), "\u00a0", " "))
				if f.Kind == FormatPercent {
					f.Unit = strings.TrimSpace(strings.Replace(f.Unit, "%", "", 1))
				}
			}
			if other, ok := s.formats[above]; ok {
				f = other
			}
			s.formats[name] = f
			return nil
		case xml.CharData:
			if inText && digits {
				unit.Write(t)
			}
		case xml.StartElement:
			switch full(t.Name) {
			case "number:text", "number:currency-symbol":
				inText = true
			case "number:number", "number:scientific-number", "number:fraction":
				digits = true
				places, err := strconv.Atoi(prefixed(&t, "number:decimal-places"))
				if err == nil && places >= 0 && places <= mostExponent {
					f.Places = places
					if f.Kind == FormatGeneral {
						f.Kind = FormatFixed
					}
				}
				switch t.Name.Local {
				case "scientific-number":
					f.Kind = FormatScientific
				case "fraction":
					f.Kind, f.Places = FormatFraction, -1
				}
			case "style:map":
				if strings.HasPrefix(strings.ReplaceAll(prefixed(&t, "style:condition"), " ", ""), "value()>") {
					above = prefixed(&t, "style:apply-style-name")
				}
			}
		}
	}
}
