package sheet

import (
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// A holder takes what a worksheet part says beside its cells, for a sheet that is held
// whole: ISO/IEC 29500-1, 18.3.1.
type holder struct {
	grid   *Grid
	budget *budget
	arrays []Array // of whose cells not all are read yet
	filter Area    // that is being read
}

// begin takes an element that begins.
func (h *holder) begin(r *cellReader, e *xml.StartElement) error {
	switch e.Name.Local {
	case "row":
		if isTrue(attribute(e, "hidden")) {
			h.grid.hiddenRows.add(r.row, r.row)
		}
	case "c":
		if text := attribute(e, "s"); text != "" {
			n, err := strconv.ParseUint(text, 10, 16)
			if err != nil || int(n) >= max(len(h.grid.styles), 1) {
				return fmt.Errorf("%s: damaged: style %q of %d", r.at(), text, len(h.grid.styles))
			}
			r.style = uint16(n)
		}
	case "f":
		if attribute(e, "t") != "array" {
			return nil
		}
		a := Area{Place{r.row, r.column}, Place{r.row, r.column}}
		if text := attribute(e, "ref"); text != "" {
			var err error
			if a, err = ParseArea(text); err != nil {
				return fmt.Errorf("%s: damaged: %w", r.at(), err)
			}
		}
		if a.First != (Place{r.row, r.column}) {
			return fmt.Errorf("%s: damaged: an array formula for %s", r.at(), a)
		}
		h.arrays = append(h.arrays, Array{Area: a})
		return h.budget.area(r.where)
	case "col":
		first, err := strconv.Atoi(attribute(e, "min"))
		last, err2 := strconv.Atoi(attribute(e, "max"))
		if err != nil || err2 != nil || first < 1 || last < first {
			return fmt.Errorf("%s: damaged: columns %q to %q", r.where, attribute(e, "min"), attribute(e, "max"))
		}
		if isTrue(attribute(e, "hidden")) {
			h.grid.hiddenColumns.add(first, last)
		}
	case "mergeCell":
		a, err := ParseArea(attribute(e, "ref"))
		if err != nil {
			return fmt.Errorf("%s: damaged: %w", r.where, err)
		}
		h.grid.Merged = append(h.grid.Merged, a)
		return h.budget.area(r.where)
	case "autoFilter":
		h.filter, _ = ParseArea(attribute(e, "ref")) // without one that can be read, nothing is filtered
	case "filterColumn":
		if h.filter != (Area{}) {
			h.grid.filters = append(h.grid.filters, h.filter)
			h.filter = Area{}
			return h.budget.area(r.where)
		}
	case "sheetProtection":
		h.grid.Protected = isTrue(attribute(e, "sheet"))
	}
	return nil
}

// finish gives the cells of array formulas their formulas, when all are read.
func (h *holder) finish() error {
	h.grid.order()
	for _, a := range h.arrays {
		a.Formula = h.grid.Cell(a.Area.First).Formula
		if err := h.grid.spread(a, h.budget); err != nil {
			return err
		}
	}
	return nil
}

// Load reads the whole workbook into memory.
func (w *Workbook) Load(ctx context.Context) (*Book, error) {
	return w.load(ctx, &budget{bounds: w.bounds})
}

func (w *Workbook) load(ctx context.Context, left *budget) (*Book, error) {
	styles, err := readStyles(w.parts.styles)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", w.name, err)
	}
	book := &Book{}
	for _, s := range w.parts.sheets {
		if err := left.part(s.part); err != nil {
			return nil, fmt.Errorf("%s: %w", w.name, err)
		}
		g := &Grid{Name: s.name, Hidden: s.hidden, styles: styles}
		if err := w.hold(ctx, s, g, left); err != nil {
			return nil, err
		}
		tables, err := w.tables(s, len(book.Grids), left)
		if err != nil {
			return nil, fmt.Errorf("%s: sheet %s: %w", w.name, s.name, err)
		}
		for _, t := range tables {
			if t.Filtered {
				g.filters = append(g.filters, Area{First: t.From, Last: t.To})
			}
		}
		book.Grids = append(book.Grids, g)
		book.Tables = append(book.Tables, tables...)
	}
	if book.Names, err = w.names(left); err != nil {
		return nil, fmt.Errorf("%s: %w", w.name, err)
	}
	book.order()
	return book, nil
}

// hold reads a sheet whole.
func (w *Workbook) hold(ctx context.Context, s worksheet, g *Grid, left *budget) error {
	p, closer, err := openPart(s.part)
	if err != nil {
		return fmt.Errorf("%s: %w", w.name, err)
	}
	defer closer.Close()
	var stopped error
	rows := newSupply(func(b *Batch, _ error) bool {
		stopped = g.take(b, left)
		return stopped == nil
	})
	h := &holder{grid: g, budget: left}
	r := &cellReader{xmlPart: p, where: fmt.Sprintf("%s, sheet %s", w.name, s.name), bounds: w.bounds, texts: w.texts, rows: rows, whole: h}
	if err := r.read(ctx); err != nil && !errors.Is(err, errEnough) {
		return err
	}
	if stopped != nil {
		return fmt.Errorf("%s: %w", w.name, stopped)
	}
	if err := h.finish(); err != nil {
		return fmt.Errorf("%s: %w", w.name, err)
	}
	return nil
}

// names reads the defined names: ISO/IEC 29500-1, 18.2.5.
func (w *Workbook) names(left *budget) ([]Name, error) {
	p, closer, err := openPart(w.parts.book)
	if err != nil {
		return nil, err
	}
	defer closer.Close()
	var names []Name
	var name *Name
	var text []byte
	for {
		token, err := p.next()
		if err != nil {
			return nil, fmt.Errorf("names: %w", err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			if e.Name.Local != "definedName" {
				continue
			}
			name, text = &Name{Name: attribute(&e, "name"), Hidden: isTrue(attribute(&e, "hidden"))}, nil
			if local := attribute(&e, "localSheetId"); local != "" {
				i, err := strconv.Atoi(local)
				if err != nil || i < 0 || i >= len(w.parts.all) {
					return nil, fmt.Errorf("damaged: name %s belongs to sheet %q of %d", name.Name, local, len(w.parts.all))
				}
				name.Sheet = w.parts.all[i]
			}
		case xml.CharData:
			if name != nil {
				if text = append(text, e...); len(text) > w.bounds.CellText {
					return nil, &BoundError{What: fmt.Sprintf("a name that stands for more than %d bytes", w.bounds.CellText), Where: "name " + name.Name, Most: "that is read"}
				}
			}
		case xml.EndElement:
			switch e.Name.Local {
			case "definedName":
				if name == nil {
					continue
				}
				name.Formula = strings.TrimSpace(string(text))
				if !strings.Contains(name.Formula, "#REF!") {
					if err := left.name(len(names), w.name); err != nil {
						return nil, err
					}
					names = append(names, *name)
				}
				name = nil
			case "workbook":
				return names, nil
			}
		}
	}
}
