package sheet

import (
	"archive/zip"
	"encoding/xml"
	"fmt"
	"path"
	"strconv"
	"strings"
)

// A Table is a range of cells that formulas name by the headings of its columns, as in
// Mains[Clearance].
type Table struct {
	Name     string
	Index    int // of its sheet in the Book, from 0
	From, To Place
	Columns  []string
	Headings int // rows at the top, 0 or 1
	Totals   int // rows at the bottom, 0 or 1
	Filtered bool
}

// tables reads the tables of a sheet: ISO/IEC 29500-1, 18.5.
func (w *Workbook) tables(s worksheet, index int, left *budget) ([]Table, error) {
	folder, name := path.Split(strings.ToLower(s.part.Name))
	rels := w.parts.byName[folder+"_rels/"+name+".rels"]
	if rels == nil {
		return nil, nil
	}
	var of relations
	if err := decode(rels, &of); err != nil {
		return nil, err
	}
	var tables []Table
	for _, r := range of.Each {
		part := w.parts.byName[r.from(folder)]
		if path.Base(r.Type) != "table" || part == nil {
			continue
		}
		t, err := readTable(part, left.bounds.Columns)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", part.Name, err)
		}
		if err := left.area(w.name); err != nil {
			return nil, err
		}
		t.Index = index
		tables = append(tables, t)
	}
	return tables, nil
}

func readTable(f *zip.File, most int) (t Table, err error) {
	p, closer, err := openPart(f)
	if err != nil {
		return t, err
	}
	defer closer.Close()
	for {
		token, err := p.next()
		if err != nil {
			return t, err
		}
		switch e := token.(type) {
		case xml.StartElement:
			switch e.Name.Local {
			case "table":
				area, err := ParseArea(attribute(&e, "ref"))
				if err != nil {
					return t, fmt.Errorf("damaged: %w", err)
				}
				t.From, t.To = area.First, area.Last
				t.Name, t.Headings = attribute(&e, "displayName"), 1
				for name, n := range map[string]*int{"headerRowCount": &t.Headings, "totalsRowCount": &t.Totals} {
					if text := attribute(&e, name); text != "" {
						if *n, err = strconv.Atoi(text); err != nil || *n < 0 || *n > 1 {
							return t, fmt.Errorf("damaged: %s is %q", name, text)
						}
					}
				}
			case "filterColumn":
				t.Filtered = true
			case "tableColumn":
				if len(t.Columns) == most {
					return t, &BoundError{What: fmt.Sprintf("a table of more than %d columns", most), Where: t.Name, Most: "that many are read"}
				}
				t.Columns = append(t.Columns, unescaped(attribute(&e, "name")))
			}
		case xml.EndElement:
			if e.Name.Local == "table" {
				return t, nil
			}
		}
	}
}
