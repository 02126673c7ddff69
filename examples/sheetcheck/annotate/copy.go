package annotate

import (
	"context"
	"fmt"
	"io"
	"strings"
	"time"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// Copy writes a copy of a workbook with an answer in it. now is the time that new parts and
// replies in threads bear. What the owner must know of the copy is returned, and stands on its
// first sheet, too.
func Copy(ctx context.Context, out io.Writer, w *sheet.Workbook, a *Answer, now time.Time) (notes []string, err error) {
	files, err := newArchive(w.Archive(), now)
	if err != nil {
		return nil, err
	}
	b, err := files.book()
	if err != nil {
		return nil, err
	}
	name := b.freeName()
	if notes, err = files.notes(b, name, a); err != nil {
		return nil, err
	}
	looks, err := files.styles(b)
	if err != nil {
		return nil, err
	}
	if err := files.marks(ctx, b, looks, a); err != nil {
		return nil, err
	}
	shown := *a
	shown.Lines = append(append([]string{}, a.Lines...), notes...)
	part := files.part(b, "worksheets/sheet")
	files.add(part, sheetTypes+"worksheet+xml", page(b, looks, &shown))
	b.begin(name, b.rels.add(b.office+"/worksheet", part))
	if err := files.title(b, name); err != nil {
		return nil, err
	}
	if err := looks.finish(); err != nil {
		return nil, err
	}
	if err := files.finish(); err != nil {
		return nil, err
	}
	return notes, files.write(ctx, out)
}

// notes says what a copy cannot keep as it was.
func (a *archive) notes(b *book, name string, answer *Answer) (notes []string, err error) {
	top, err := a.relationsOf("")
	if err != nil {
		return nil, err
	}
	for _, r := range top.each {
		if r.kind == "origin" && strings.Contains(r.target, "signature") || strings.HasSuffix(r.target, "origin.sigs") {
			notes = append(notes, "The workbook is signed. The signature holds for the workbook itself and not for this copy.")
			break
		}
	}
	if _, ok := b.rels.of("vbaProject"); ok {
		notes = append(notes, fmt.Sprintf("The macros are as they were. One that counts sheets finds %s as the first.", name))
	}
	if n := len(answer.Marks); n > mostComments {
		notes = append(notes, fmt.Sprintf("The first %d marked cells have comments, the other %d have colours alone.", mostComments, n-mostComments))
	}
	return notes, nil
}

// styles returns the workbook's styles; new ones if it has none.
func (a *archive) styles(b *book) (*styles, error) {
	r, ok := b.rels.of("styles")
	if !ok || a.byName[strings.ToLower(r.target)] == nil {
		name := r.target
		if !ok {
			name = b.folder() + "styles.xml"
			if a.has(name) {
				name = a.part(b, "styles")
			}
			b.rels.add(b.office+"/styles", name)
		}
		d, err := parse([]byte(head + `<styleSheet xmlns="` + b.main + `"/>`))
		if err != nil {
			return nil, err
		}
		a.fresh = append(a.fresh, freshPart{name, sheetTypes + "styles+xml", d})
		return newStyles(d), nil
	}
	d, err := a.document(r.target)
	if err != nil {
		return nil, err
	}
	return newStyles(d), nil
}

// marks puts the marks on the sheets.
func (a *archive) marks(ctx context.Context, b *book, looks *styles, answer *Answer) error {
	bySheet := make([][]*Mark, len(b.sheets))
	for i := range answer.Marks {
		m := answer.Marks[i] // a copy, which may be moved
		if i >= mostComments {
			m.Text = ""
		}
		at := b.sheet(m.Sheet)
		if at < 0 {
			return fmt.Errorf("no sheet is called %q, and %s on it is to be marked", m.Sheet, m.At)
		}
		bySheet[at] = append(bySheet[at], &m)
	}
	last, err := a.blocks()
	if err != nil {
		return err
	}
	for i, marks := range bySheet {
		if len(marks) == 0 {
			continue
		}
		s := b.sheets[i]
		f := a.byName[strings.ToLower(s.part)]
		if f == nil {
			return damaged("sheet %s has no part", s.name)
		}
		found, err := mark(ctx, f, looks, joined(marks))
		if err != nil {
			return err
		}
		a.edits[f] = found.edits
		c := &commenting{archive: a, book: b, part: s.part}
		if c.rels, err = a.relationsOf(s.part); err != nil {
			return err
		}
		used, err := c.draw(f, found, last)
		if err != nil {
			return err
		}
		last += used
	}
	return nil
}

// sheet returns the index of a sheet; below 0 if there is none of the name.
func (b *book) sheet(name string) int {
	for i, s := range b.sheets {
		if s.name == name && s.kind == "worksheet" {
			return i
		}
	}
	return -1
}
