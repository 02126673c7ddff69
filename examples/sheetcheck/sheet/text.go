package sheet

import (
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
	separator byte
	notation  Notation
	bounds    Bounds
	size      int64
}

// OpenText opens a file of separated values, in UTF-8 with or without a byte
// order mark. The separator is one of ASCII.
func OpenText(name string, separator byte, n Notation, b Bounds) (*Text, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, err
	}
	if info.Size() > b.FileSize {
		return nil, &BoundError{What: fmt.Sprintf("a file of %d bytes", info.Size()), Where: name, Most: fmt.Sprintf("%d are read", b.FileSize)}
	}
	if n.Decimal == 0 {
		n.Decimal = '.'
	}
	return &Text{name: name, separator: separator, notation: n, bounds: b, size: info.Size()}, nil
}

// Close does nothing: the file is open only while its rows are read.
func (t *Text) Close() error { return nil }

// Sheets returns one sheet without a name.
func (t *Text) Sheets() []string { return []string{""} }

// Size returns the size of the file in bytes.
func (t *Text) Size(string) int64 { return t.size }

// Batches reads the rows in order. Empty rows are left out.
func (t *Text) Batches(ctx context.Context, _ string) iter.Seq2[*Batch, error] {
	return func(yield func(*Batch, error) bool) {
		f, err := os.Open(t.name)
		if err != nil {
			yield(nil, err)
			return
		}
		defer f.Close()
		r := &textReader{Text: t, in: f, supply: newBatches(), yield: yield}
		if err := r.read(ctx); err != nil && !errors.Is(err, errEnough) {
			yield(nil, err)
		}
	}
}

// errEnough is what stops the reading when no more rows are wanted.
var errEnough = errors.New("no more rows are wanted")

// chunk is how much of a text file is read at once.
const chunk = 64 << 10

// longRecord is how long a record with quotation marks may be.
const longRecord = 1 << 20

// textReader reads one text file. Up to the first quotation mark a line is a
// record and is simply cut at its separators; from the chunk that has one on, the
// careful reader of encoding/csv takes over.
type textReader struct {
	*Text
	in     io.Reader
	supply batches
	yield  func(*Batch, error) bool
	number int // of the last row
}

func (r *textReader) read(ctx context.Context) error {
	buffer := make([]byte, 0, 2*chunk)
	for first := true; ; first = false {
		if err := ctx.Err(); err != nil {
			return context.Cause(ctx)
		}
		n, err := io.ReadAtLeast(r.in, buffer[len(buffer):min(cap(buffer), len(buffer)+chunk)], 1)
		buffer = buffer[:len(buffer)+n]
		atEnd := err == io.EOF
		if err != nil && !atEnd {
			return fmt.Errorf("%s: %w", r.name, err)
		}
		if first {
			if buffer, err = withoutByteOrderMark(buffer); err != nil {
				return fmt.Errorf("%s: %w", r.name, err)
			}
		}
		if bytes.IndexByte(buffer[max(0, len(buffer)-n):], '"') >= 0 {
			return r.records(ctx, io.MultiReader(bytes.NewReader(buffer), r.in))
		}
		whole := bytes.LastIndexByte(buffer, '\n') + 1
		if atEnd {
			whole = len(buffer)
		}
		if whole == 0 && len(buffer) > chunk {
			return r.tooLong(chunk)
		}
		if err := r.lines(string(buffer[:whole])); err != nil {
			return err
		}
		buffer = append(buffer[:0], buffer[whole:]...)
		if atEnd {
			return nil
		}
	}
}

func withoutByteOrderMark(start []byte) ([]byte, error) {
	switch {
	case bytes.HasPrefix(start, []byte("\uFEFF")):
		return append(start[:0], start[3:]...), nil
	case bytes.HasPrefix(start, []byte{0xFF, 0xFE}), bytes.HasPrefix(start, []byte{0xFE, 0xFF}):
		return start, errors.New("a file in UTF-16; save it as CSV in UTF-8")
	case bytes.HasPrefix(start, []byte("PK\x03")):
		return start, errors.New("a workbook named as a text file; give it its own ending, .xlsx")
	}
	return start, nil
}

// lines cuts whole lines without quotation marks into rows.
func (r *textReader) lines(text string) error {
	checked := utf8.ValidString(text) && strings.IndexByte(text, 0) < 0 // else cell by cell, to say which
	b := r.supply.next()
	for text != "" {
		line, rest, _ := strings.Cut(text, "\n")
		text = rest
		r.number++
		line = strings.TrimSuffix(line, "\r")
		if line == "" {
			continue
		}
		start := len(b.cells)
		b.row(r.number)
		for left := line; ; {
			number, end, ok := r.notation.leading(left, r.separator)
			if ok {
				b.addNumber(left[:end], number)
			} else {
				if end = strings.IndexByte(left, r.separator); end < 0 {
					end = len(left)
				}
				b.add(left[:end], r.notation)
			}
			if end == len(left) {
				break
			}
			left = left[end+1:]
		}
		b.end(start)
		if checked && len(line) <= r.bounds.CellText && len(b.cells)-start <= r.bounds.Columns && r.number <= r.bounds.Rows {
			continue
		}
		if err := r.check(&b.Rows[len(b.Rows)-1]); err != nil {
			return err
		}
	}
	return r.hand(b)
}

func (r *textReader) hand(b *Batch) error {
	if len(b.Rows) > 0 && !r.yield(b, nil) {
		return errEnough
	}
	return nil
}

// records reads records that may be quoted.
func (r *textReader) records(ctx context.Context, in io.Reader) error {
	bounded := &recordBound{r: in, most: longRecord}
	reader := csv.NewReader(bounded)
	reader.Comma = rune(r.separator)
	reader.FieldsPerRecord = -1
	reader.ReuseRecord = true
	last := 0 // the line on which the record before ended
	b := r.supply.next()
	for {
		bounded.begin()
		record, err := reader.Read()
		if err == io.EOF {
			return r.hand(b)
		}
		if err != nil {
			return r.explain(err)
		}
		line, _ := reader.FieldPos(0)
		r.number += line - last // rows are lines, save that a cell may hold line breaks
		end, _ := reader.FieldPos(len(record) - 1)
		last = end + strings.Count(record[len(record)-1], "\n")
		start := len(b.cells)
		b.row(r.number)
		for _, text := range record {
			b.add(text, r.notation)
		}
		b.end(start)
		if err := r.check(&b.Rows[len(b.Rows)-1]); err != nil {
			return err
		}
		if len(b.Rows) < BatchRows {
			continue
		}
		if err := r.hand(b); err != nil {
			return err
		}
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		b = r.supply.next()
	}
}

func (t *Text) check(row *Row) error {
	if row.Number > t.bounds.Rows {
		return &BoundError{What: fmt.Sprintf("row %d", row.Number), Where: t.name, Most: fmt.Sprintf("%d are read", t.bounds.Rows)}
	}
	if len(row.Cells) > t.bounds.Columns {
		return &BoundError{What: fmt.Sprintf("%d columns", len(row.Cells)), Where: fmt.Sprintf("%s, row %d", t.name, row.Number), Most: fmt.Sprintf("%d are read", t.bounds.Columns)}
	}
	for i, c := range row.Cells {
		at := Place{row.Number, i + 1}
		if len(c.Text) > t.bounds.CellText {
			return &BoundError{What: fmt.Sprintf("a cell of %d bytes", len(c.Text)), Where: fmt.Sprintf("%s, %s", t.name, at), Most: fmt.Sprintf("%d are read", t.bounds.CellText)}
		}
		if !utf8.ValidString(c.Text) || strings.IndexByte(c.Text, 0) >= 0 {
			return fmt.Errorf("%s, %s: bytes that are not UTF-8; save the file as CSV in UTF-8", t.name, at)
		}
	}
	return nil
}

func (t *Text) tooLong(most int) error {
	return &BoundError{What: "a row without an end, as when a quotation mark is left open", Where: t.name, Most: fmt.Sprintf("%d KB are read for one", most>>10)}
}

func (r *textReader) explain(err error) error {
	var wrong *csv.ParseError
	switch {
	case errors.Is(err, ErrBound):
		return r.tooLong(longRecord)
	case errors.As(err, &wrong) && errors.Is(err, csv.ErrQuote):
		return fmt.Errorf("%s, row %d or below: a quotation mark that is not closed or not doubled; save the file again from the spreadsheet", r.name, r.number+1)
	case errors.As(err, &wrong) && errors.Is(err, csv.ErrBareQuote):
		return fmt.Errorf("%s, row %d or below: a quotation mark inside a cell without quotation marks; save the file again from the spreadsheet", r.name, r.number+1)
	}
	return fmt.Errorf("%s: %w", r.name, err)
}

// recordBound is a reader that gives up when one record is too long: an open
// quotation mark would otherwise take the whole file into memory.
type recordBound struct {
	r    io.Reader
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
