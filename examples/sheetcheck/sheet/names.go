package sheet

import (
	"archive/zip"
	"context"
	"encoding/xml"
	"fmt"
	"path"
	"strconv"
	"strings"
)

// A Name is a name that a workbook gives a formula or a range.
type Name struct {
	Sheet   string // that the name belongs to; empty for the whole workbook
	Name    string
	Formula string
}

// A Table is a range of cells that formulas name by the headings of its columns.
type Table struct {
	Sheet            string
	Name             string
	From, To         Place
	Columns          []string
	Headings, Totals int // rows at its top and at its bottom
}

// mostNames bounds the names that are read, and the tables.
const mostNames = 200_000

// Names returns the names that formulas may use: ISO/IEC 29500-1, 18.2.5. The error is
// a *BoundError if there are too many.
func (w *Workbook) Names(ctx context.Context) ([]Name, error) {
	part := w.file("xl/workbook.xml")
	if part == nil {
		return nil, nil
	}
	p, closer, err := openPart(part)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", w.name, err)
	}
	defer closer.Close()
	var (
		sheets []string
		names  []Name
		inside *Name
	)
	for {
		token, err := p.next()
		if err != nil {
			return nil, fmt.Errorf("%s: names: %w", w.name, err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			switch e.Name.Local {
			case "sheet":
				sheets = append(sheets, attribute(&e, "name"))
			case "definedName":
				if len(names) == mostNames {
					return nil, &BoundError{What: "more names", Where: w.name, Most: fmt.Sprintf("%d are read", mostNames)}
				}
				if len(names)%4096 == 0 && ctx.Err() != nil {
					return nil, context.Cause(ctx)
				}
				names = append(names, Name{Name: attribute(&e, "name")})
				inside = &names[len(names)-1]
				if i, err := strconv.Atoi(attribute(&e, "localSheetId")); err == nil && i >= 0 && i < len(sheets) {
					inside.Sheet = sheets[i]
				}
			}
		case xml.CharData:
			if inside != nil {
				if inside.Formula += string(e); len(inside.Formula) > w.bounds.CellText {
					return nil, w.bounds.cell(len(inside.Formula), func() string { return "the name " + inside.Name })
				}
			}
		case xml.EndElement:
			if inside = nil; e.Name.Local == "workbook" {
				return names, nil
			}
		}
	}
}

// file returns a part of the archive, or nil.
func (w *Workbook) file(name string) *zip.File {
	for _, f := range w.archive.File {
		if strings.EqualFold(strings.ReplaceAll(f.Name, `\`, "/"), name) {
			return f
		}
	}
	return nil
}

// Tables returns the tables of all sheets: ISO/IEC 29500-1, 18.5.1.2.
func (w *Workbook) Tables(ctx context.Context) ([]Table, error) {
	var tables []Table
	for _, s := range w.sheets {
		folder, base := path.Split(strings.ReplaceAll(s.part.Name, `\`, "/"))
		relations := w.file(folder + "_rels/" + base + ".rels")
		if relations == nil {
			continue
		}
		var read struct {
			Each []struct {
				Type   string `xml:"Type,attr"`
				Target string `xml:"Target,attr"`
			} `xml:"Relationship"`
		}
		if err := decode(relations, &read); err != nil {
			return nil, fmt.Errorf("%s, sheet %s: %w", w.name, s.name, err)
		}
		for _, r := range read.Each {
			if path.Base(r.Type) != "table" {
				continue
			}
			if ctx.Err() != nil {
				return nil, context.Cause(ctx)
			}
			target := r.Target
			if !strings.HasPrefix(target, "/") {
				target = folder + target
			}
			part := w.file(strings.TrimPrefix(path.Clean("/"+target), "/"))
			if part == nil {
				continue
			}
			t, err := readTable(part)
			if err != nil {
				return nil, fmt.Errorf("%s, part %s: %w", w.name, part.Name, err)
			}
			t.Sheet = s.name
			tables = append(tables, t)
		}
	}
	return tables, nil
}

func readTable(part *zip.File) (t Table, err error) {
	var read struct {
		Name     string `xml:"displayName,attr"`
		Ref      string `xml:"ref,attr"`
		Headings *int   `xml:"headerRowCount,attr"`
		Totals   int    `xml:"totalsRowCount,attr"`
		Columns  []struct {
			Name string `xml:"name,attr"`
		} `xml:"tableColumns>tableColumn"`
	}
	if err := decode(part, &read); err != nil {
		return t, err
	}
	t.Name, t.Headings, t.Totals = read.Name, 1, read.Totals
	if read.Headings != nil {
		t.Headings = *read.Headings
	}
	first, last, _ := strings.Cut(read.Ref, ":")
	if t.From, err = ParsePlace(first); err != nil {
		return t, err
	}
	if t.To, err = ParsePlace(last); err != nil {
		return t, err
	}
	for _, c := range read.Columns {
		t.Columns = append(t.Columns, unescaped(c.Name))
	}
	return t, nil
}
