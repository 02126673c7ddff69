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
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// A Text is a file of separated values. It has one sheet.
type Text struct {
	name     string
	dialect  Dialect
	bounds   Bounds
	encoding encoding.Encoding // where no byte order mark says otherwise
	taken    []string
	titled   bool // its first line says the separator, and is no row
}

// OpenText opens a file of separated values: in UTF-8 or UTF-16 if it begins with a
// byte order mark, else in UTF-16 if every other byte of most of it is zero, in UTF-8 if all
// of it is, else in Windows-1252. What d does not say is found from the text; the error is of
// the kind ErrUnclear where the text does not show it.
func OpenText(name string, d Dialect, b Bounds) (*Text, error) {
	if _, err := b.stat(name); err != nil {
		return nil, err
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	t := &Text{name: name, bounds: b}
	if t.encoding, err = encodingOf(f); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		return nil, err
	}
	sample, err := io.ReadAll(io.LimitReader(t.decoded(f), sampleBytes))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if t.dialect, t.taken, err = d.find(sample); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	_, t.titled = titled(sample)
	return t, nil
}

// decoded returns the text in UTF-8.
func (t *Text) decoded(r io.Reader) io.Reader {
	return transform.NewReader(bufio.NewReaderSize(r, 64<<10), unicode.BOMOverride(t.encoding.NewDecoder()))
}

// encodingOf returns the encoding of a text without a byte order mark.
func encodingOf(r io.Reader) (encoding.Encoding, error) {
	buffer, held := make([]byte, 64<<10), 0
	e := encoding.Encoding(encoding.Nop)
	for first := true; ; first = false {
		n, err := io.ReadAtLeast(r, buffer[held:], 4)
		part := buffer[:held+n]
		if first {
			switch {
			case bytes.HasPrefix(part, []byte{0xFF, 0xFE}), bytes.HasPrefix(part, []byte{0xFE, 0xFF}):
				return e, nil // UTF-16
			case bytes.HasPrefix(part, []byte("PK\x03")):
				return nil, errors.New("a workbook named as a text file; give it its own ending, .xlsx or .ods")
			case bytes.HasPrefix(part, compound):
				return nil, errors.New("a workbook of the older kind named as a text file; save it as .xlsx in a spreadsheet program")
			}
			if wide := wideText(part); wide != nil {
				return wide, nil
			}
		}
		if bytes.IndexByte(part, 0) >= 0 {
			return nil, errors.New("it has zero bytes, as no text has; save the sheet as CSV in UTF-8")
		}
		whole := len(part)
		if err == nil {
			whole -= unfinished(part)
		}
		if e == encoding.Nop && !utf8.Valid(part[:whole]) {
			e = charmap.Windows1252
		}
		if held = copy(buffer, part[whole:]); err == io.EOF || err == io.ErrUnexpectedEOF {
			return e, nil
		}
		if err != nil {
			return nil, err
		}
	}
}

// compound is how a workbook of the older kind begins, and one with a password.
var compound = []byte("\xD0\xCF\x11\xE0")

// wideText returns UTF-16 in the order of bytes in which nearly every character of the text
// is one of Latin script; nil if it is in neither.
func wideText(part []byte) encoding.Encoding {
	if len(part) < 8 {
		return nil
	}
	var zeros [2]int
	for i, b := range part {
		if b == 0 {
			zeros[i%2]++
		}
	}
	most := len(part) / 2 * 9 / 10
	switch {
	case zeros[1] >= most && zeros[0] == 0:
		return unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM)
	case zeros[0] >= most && zeros[1] == 0:
		return unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM)
	}
	return nil
}

// unfinished returns how many bytes at the end may begin a rune of which the rest is
// not there yet.
func unfinished(part []byte) int {
	for n := 1; n < utf8.UTFMax && n <= len(part); n++ {
		if last := part[len(part)-n:]; utf8.RuneStart(last[0]) {
			if utf8.FullRune(last) {
				return 0
			}
			return n
		}
	}
	return 0
}

// Guessed returns the encoding that the text is read in where nothing in it says so;
// empty for UTF-8, and with a byte order mark.
func (t *Text) Guessed() string {
	if t.encoding == encoding.Nop {
		return ""
	}
	return strings.TrimSuffix(fmt.Sprint(t.encoding), " (Ignore BOM)")
}

// Dialect returns how the text is read.
func (t *Text) Dialect() Dialect { return t.dialect }

// Taken says in sentences what of the dialect was found from the text, and from what.
func (t *Text) Taken() []string { return t.taken }

// Close does nothing: the file is open only while its rows are read.
func (t *Text) Close() error { return nil }

// Sheets returns one sheet without a name.
func (t *Text) Sheets() []string { return []string{""} }

// Batches reads the rows in order. Empty rows are left out.
func (t *Text) Batches(ctx context.Context, _ string) iter.Seq2[*Batch, error] {
	return func(yield func(*Batch, error) bool) {
		f, err := os.Open(t.name)
		if err != nil {
			yield(nil, err)
			return
		}
		defer f.Close()
		decoded := t.decoded(f)
		if t.titled {
			decoded = bufio.NewReaderSize(decoded, 64<<10)
			_, _ = decoded.(*bufio.Reader).ReadString('\n')
		}
		r := &textReader{Text: t, in: &pieceReader{Reader: decoded}, rows: newSupply(yield)}
		if err := r.read(ctx); err != nil && err != errEnough {
			yield(nil, err)
		}
	}
}

// Load reads the whole text into memory.
func (t *Text) Load(ctx context.Context) (*Book, error) {
	g := &Grid{}
	left := &budget{bounds: t.bounds}
	for batch, err := range t.Batches(ctx, "") {
		if err != nil {
			return nil, err
		}
		if err := g.take(batch, left); err != nil {
			return nil, fmt.Errorf("%s: %w", t.name, err)
		}
	}
	return &Book{Grids: []*Grid{g}}, nil
}

// A textReader reads the rows of a text in one pass.
type textReader struct {
	*Text
	in     *pieceReader
	rows   *supply
	number int // of the row read last
	lines  int // split so far
}

// read reads to the end. Up to the first quotation mark a row is a line, and separators
// divide it into cells: that part, which is the whole of most files, is split here a block
// at a time. Package csv reads from the block with the first quotation mark on.
func (r *textReader) read(ctx context.Context) error {
	if !strings.ContainsRune("\x00\r\n", rune(r.dialect.Separator)) && r.dialect.Separator < utf8.RuneSelf { // else package csv says what is wrong
		rest, err := r.unquoted(ctx)
		if err != nil || rest == nil {
			return err
		}
		r.in = &pieceReader{Reader: io.MultiReader(bytes.NewReader(rest), r.in.Reader)}
	}
	return r.quoted(ctx)
}

// unquoted reads up to the first block with a quotation mark, and returns what of that
// block is not read yet: nil at the end of the text.
func (r *textReader) unquoted(ctx context.Context) (rest []byte, err error) {
	buffer, held := make([]byte, 64<<10), 0
	var record []string
	for ended := false; !ended; {
		n, err := io.ReadFull(r.in.Reader, buffer[held:])
		if ended = err == io.EOF || err == io.ErrUnexpectedEOF; err != nil && !ended {
			return nil, r.explain(err)
		}
		block := buffer[:held+n]
		if bytes.IndexByte(block, '"') >= 0 {
			return block, nil
		}
		whole := bytes.LastIndexByte(block, '\n') + 1
		if ended {
			whole = len(block)
		}
		for line := range strings.Lines(string(block[:whole])) {
			r.lines++
			if line = strings.TrimSuffix(strings.TrimSuffix(line, "\n"), "\r"); line == "" {
				continue
			}
			r.number = r.lines
			record = appendFields(record[:0], line, r.dialect.Separator)
			if err := r.row(ctx, record); err != nil {
				return nil, err
			}
		}
		if held = copy(buffer, block[whole:]); held == len(buffer) {
			if held > longPiece {
				return nil, r.explain(ErrBound)
			}
			buffer = slices.Grow(buffer, held)[:2*held]
		}
	}
	r.rows.hand()
	return nil, nil
}

// appendFields splits a line at its separators. Cells are short: a loop finds their ends
// sooner than a search that is made ready for long texts.
func appendFields(record []string, line string, separator byte) []string {
	from := 0
	for i := range len(line) {
		if line[i] == separator {
			record = append(record, line[from:i])
			from = i + 1
		}
	}
	return append(record, line[from:])
}

// quoted reads to the end of the text by package csv.
func (r *textReader) quoted(ctx context.Context) error {
	reader := csv.NewReader(bufio.NewReaderSize(r.in, 64<<10))
	reader.Comma = rune(r.dialect.Separator)
	reader.FieldsPerRecord = -1
	reader.ReuseRecord = true
	last := r.number - r.lines // the line on which the record before ended, counted from where the reader begins
	for {
		r.in.begin()
		record, err := reader.Read()
		if err == io.EOF {
			r.rows.hand()
			return nil
		}
		if err != nil {
			return r.explain(err)
		}
		line, _ := reader.FieldPos(0)
		r.number += line - last // rows are lines, save that a cell may hold line breaks
		end, _ := reader.FieldPos(len(record) - 1)
		last = end + strings.Count(record[len(record)-1], "\n")
		if err := r.row(ctx, record); err != nil {
			return err
		}
	}
}

// row puts a record into the row of its number. The error is errEnough if no more rows
// are wanted.
func (r *textReader) row(ctx context.Context, record []string) error {
	if len(r.rows.Rows) == 0 && ctx.Err() != nil { // once a batch
		return context.Cause(ctx)
	}
	if err := r.fits(r.number, len(record)); err != nil {
		return err
	}
	comma := r.dialect.Decimal == ','
	cells := r.rows.row(len(record))
	for i, text := range record {
		if len(text) > r.bounds.CellText {
			return r.bounds.cell(len(text), func() string { return r.name + ", " + Place{r.number, i + 1}.String() })
		}
		cells[i].Text, cells[i].comma = text, comma
	}
	if !r.rows.end(r.number) {
		return errEnough
	}
	return nil
}

func (t *Text) fits(row, columns int) error {
	switch {
	case row > t.bounds.Rows:
		return &BoundError{What: fmt.Sprintf("row %d", row), Where: t.name, Most: fmt.Sprintf("%d are read", t.bounds.Rows)}
	case columns > t.bounds.Columns:
		return &BoundError{What: fmt.Sprintf("%d columns", columns), Where: fmt.Sprintf("%s, row %d", t.name, row), Most: fmt.Sprintf("%d are read", t.bounds.Columns)}
	}
	return nil
}

// explain says what is wrong with the record after the row read last.
func (r *textReader) explain(err error) error {
	switch {
	case errors.Is(err, ErrBound):
		return &BoundError{What: "a row without an end, as when a quotation mark is left open", Where: r.name, Most: fmt.Sprintf("%d KB are read for one", longPiece>>10)}
	case errors.Is(err, csv.ErrQuote):
		return fmt.Errorf("%s, row %d or below: a quotation mark that is not closed or not doubled; save the file again from the spreadsheet", r.name, r.number+1)
	case errors.Is(err, csv.ErrBareQuote):
		return fmt.Errorf("%s, row %d or below: a quotation mark inside a cell without quotation marks; save the file again from the spreadsheet", r.name, r.number+1)
	}
	return fmt.Errorf("%s: %w", r.name, err)
}
