package sheet

import (
	"bufio"
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"strings"
	"unicode/utf8"
)

// A Text is a file of separated values. It has one sheet.
type Text struct {
	name      string
	separator rune
	bounds    Bounds
	size      int64
}

// OpenText opens a file of separated values, in UTF-8 with or without a byte
// order mark.
func OpenText(name string, separator rune, b Bounds) (*Text, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, err
	}
	if info.Size() > b.FileSize {
		return nil, &BoundError{What: fmt.Sprintf("a file of %d bytes", info.Size()), Where: name, Most: fmt.Sprintf("%d are read", b.FileSize)}
	}
	return &Text{name: name, separator: separator, bounds: b, size: info.Size()}, nil
}

// Close does nothing: the file is open only while its rows are read.
func (t *Text) Close() error { return nil }

// Sheets returns one sheet without a name.
func (t *Text) Sheets() []string { return []string{""} }

// Size returns the size of the file in bytes.
func (t *Text) Size(string) int64 { return t.size }

// Rows reads the rows in order. Empty rows are left out. The row is good until
// the next one.
func (t *Text) Rows(ctx context.Context, _ string) iter.Seq2[*Row, error] {
	return func(yield func(*Row, error) bool) {
		f, err := os.Open(t.name)
		if err != nil {
			yield(nil, err)
			return
		}
		defer f.Close()
		in := &recordBound{r: bufio.NewReaderSize(f, 1<<16), most: 4 * t.bounds.CellText * 8}
		if err := in.skipByteOrderMark(); err != nil {
			yield(nil, fmt.Errorf("%s: %w", t.name, err))
			return
		}
		t.records(ctx, in, yield)
	}
}

func (t *Text) records(ctx context.Context, in *recordBound, yield func(*Row, error) bool) {
	reader := csv.NewReader(in)
	reader.Comma = t.separator
	reader.FieldsPerRecord = -1
	reader.ReuseRecord = true
	row := &Row{}
	last := 0 // the line on which the record before ended
	for n := 0; ; n++ {
		if n%1024 == 0 && ctx.Err() != nil {
			yield(nil, context.Cause(ctx))
			return
		}
		in.begin()
		record, err := reader.Read()
		if err == io.EOF {
			return
		}
		if err != nil {
			yield(nil, t.explain(err))
			return
		}
		line, _ := reader.FieldPos(0)
		row.Number += line - last // rows are lines, save that a cell may hold line breaks
		end, _ := reader.FieldPos(len(record) - 1)
		last = end + strings.Count(record[len(record)-1], "\n")
		if err := t.check(row.Number, record); err != nil {
			yield(nil, err)
			return
		}
		row.Cells = row.Cells[:0]
		for _, text := range record {
			row.Cells = append(row.Cells, Cell{Text: text})
		}
		if !yield(row, nil) {
			return
		}
	}
}

func (t *Text) check(number int, record []string) error {
	if number > t.bounds.Rows {
		return &BoundError{What: fmt.Sprintf("row %d", number), Where: t.name, Most: fmt.Sprintf("%d are read", t.bounds.Rows)}
	}
	if len(record) > t.bounds.Columns {
		return &BoundError{What: fmt.Sprintf("%d columns", len(record)), Where: fmt.Sprintf("%s, row %d", t.name, number), Most: fmt.Sprintf("%d are read", t.bounds.Columns)}
	}
	for i, text := range record {
		if len(text) > t.bounds.CellText {
			return &BoundError{What: fmt.Sprintf("a cell of %d bytes", len(text)), Where: fmt.Sprintf("%s, %s", t.name, Place{number, i + 1}), Most: fmt.Sprintf("%d are read", t.bounds.CellText)}
		}
		if !utf8.ValidString(text) || strings.IndexByte(text, 0) >= 0 {
			return fmt.Errorf("%s, %s: bytes that are not UTF-8; save the file as CSV in UTF-8", t.name, Place{number, i + 1})
		}
	}
	return nil
}

func (t *Text) explain(err error) error {
	var wrong *csv.ParseError
	switch {
	case errors.Is(err, ErrBound):
		return &BoundError{What: "a record without an end, as when a quotation mark is left open", Where: t.name, Most: fmt.Sprintf("%d KB are read for one", 4*t.bounds.CellText*8>>10)}
	case errors.As(err, &wrong) && errors.Is(err, csv.ErrQuote):
		return fmt.Errorf("%s, line %d: a quotation mark that is not closed or not doubled; save the file again from the spreadsheet", t.name, wrong.StartLine)
	case errors.As(err, &wrong) && errors.Is(err, csv.ErrBareQuote):
		return fmt.Errorf("%s, line %d, byte %d: a quotation mark inside a cell without quotation marks; save the file again from the spreadsheet", t.name, wrong.Line, wrong.Column)
	}
	return fmt.Errorf("%s: %w", t.name, err)
}

// recordBound is a reader that gives up when one record is too long: an open
// quotation mark would otherwise take the whole file into memory.
type recordBound struct {
	r    *bufio.Reader
	most int
	read int
}

func (b *recordBound) begin() { b.read = 0 }

func (b *recordBound) Read(p []byte) (int, error) {
	if b.read > b.most {
		return 0, ErrBound
	}
	n, err := b.r.Read(p)
	b.read += n
	return n, err
}

func (b *recordBound) skipByteOrderMark() error {
	start, err := b.r.Peek(3)
	switch {
	case bytes.Equal(start, []byte("\uFEFF")):
		_, err = b.r.Discard(3)
		return err
	case bytes.HasPrefix(start, []byte{0xFF, 0xFE}), bytes.HasPrefix(start, []byte{0xFE, 0xFF}):
		return errors.New("a file in UTF-16; save it as CSV in UTF-8")
	case bytes.HasPrefix(start, []byte("PK\x03")):
		return errors.New("a workbook named as a text file; give it its own ending, .xlsx")
	case err != nil && err != io.EOF:
		return err
	}
	return nil
}
