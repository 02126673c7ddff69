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

// decoded returns the text in UTF-8, without its byte order mark.
func (t *Text) decoded(r io.Reader) io.Reader {
	start := make([]byte, 3)
	n, _ := io.ReadFull(r, start) // an error comes again where the text is read
	start = start[:n]
	whole := io.MultiReader(bytes.NewReader(start), r)
	switch {
	case t.encoding != encoding.Nop || bytes.HasPrefix(start, []byte{0xFF, 0xFE}) || bytes.HasPrefix(start, []byte{0xFE, 0xFF}):
		return transform.NewReader(bufio.NewReaderSize(whole, 64<<10), unicode.BOMOverride(t.encoding.NewDecoder()))
	case string(start) == "\uFEFF":
		return r
	}
	return whole
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
		if err := r.readAll(ctx); err != nil && err != errEnough {
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
	read   int // lines, before those that package csv reads
}

// readAll reads to the end. Where every quotation mark is one of a pair about a cell of one line, a
// row is a line, and separators divide it into cells: that is the whole of most files. It is
// handed on a block at a time, and split by whoever asks for the rows. Package csv reads from
// the first block on in which quotation marks stand otherwise.
func (r *textReader) readAll(ctx context.Context) error {
	if !strings.ContainsRune("\x00\r\n\"", rune(r.dialect.Separator)) && r.dialect.Separator < utf8.RuneSelf { // else package csv says what is wrong
		rest, err := r.blocks(ctx)
		if err != nil || rest == nil {
			return err
		}
		r.in = &pieceReader{Reader: io.MultiReader(bytes.NewReader(rest), r.in.Reader)}
	}
	return r.quoted(ctx)
}

// blockBytes is about how much of a text is split at a time.
const blockBytes = 32 << 10

// blocks hands on whole lines up to the block that is for package csv, and returns what is read
// from there on: nil at the end of the text.
func (r *textReader) blocks(ctx context.Context) (rest []byte, err error) {
	buffer, held := make([]byte, blockBytes), 0
	for ended := false; !ended; {
		if ctx.Err() != nil {
			return nil, context.Cause(ctx)
		}
		n, err := io.ReadFull(r.in.Reader, buffer[held:])
		if ended = err == io.EOF || err == io.ErrUnexpectedEOF; err != nil && !ended {
			return nil, r.explain(err)
		}
		block := buffer[:held+n]
		whole := bytes.LastIndexByte(block, '\n') + 1
		if ended {
			whole = len(block)
		}
		quoted := bytes.IndexByte(block[:whole], '"') >= 0
		if quoted && !paired(block[:whole], r.dialect.Separator) {
			return block, nil
		}
		if whole > 0 {
			r.rows.lines = &unsplit{of: r.Text, first: r.read + 1, text: r.rows.keep(block[:whole]), quoted: quoted}
			r.count(block[:whole])
			if !r.rows.hand() {
				return nil, errEnough
			}
		}
		if held = copy(buffer, block[whole:]); held == len(buffer) {
			if held > longPiece {
				return nil, r.explain(ErrBound)
			}
			buffer = slices.Grow(buffer, held)[:2*held]
		}
	}
	return nil, nil
}

// count counts lines, and finds the last one that is a row.
func (r *textReader) count(block []byte) {
	r.read += bytes.Count(block, []byte("\n"))
	line := r.read
	if block[len(block)-1] != '\n' {
		r.read++
		line++
	}
	for ; len(block) > 0; line-- {
		from := bytes.LastIndexByte(block[:len(block)-1], '\n') + 1
		if last := bytes.TrimSuffix(block[from:], []byte("\n")); len(bytes.TrimSuffix(last, []byte("\r"))) > 0 {
			r.number = line
			return
		}
		block = block[:from]
	}
}

// paired reports whether all quotation marks of a block of lines are pairs about whole cells,
// with neither a line break nor another quotation mark between them.
func paired(block []byte, separator byte) bool {
	for from := 0; ; {
		i := bytes.IndexByte(block[from:], '"')
		if i < 0 {
			return true
		}
		i += from
		n := bytes.IndexByte(block[i+1:], '"')
		if n < 0 || i > 0 && block[i-1] != separator && block[i-1] != '\n' || bytes.IndexByte(block[i+1:i+1+n], '\n') >= 0 {
			return false
		}
		from = i + n + 2
		switch end := block[from:]; {
		case len(end) == 0 || end[0] == separator || end[0] == '\n':
		case end[0] == '\r' && (len(end) == 1 || end[1] == '\n'):
		default:
			return false
		}
	}
}

// An unsplit is lines of a text, which are rows once they are split.
type unsplit struct {
	of     *Text
	first  int    // the number of the first one
	text   []byte // good until the batch is released
	quoted bool   // cells may stand in quotation marks
}

// split makes the lines rows of a batch. A loop finds the ends of cells sooner than a search that
// is made ready for long texts: they are short.
func (l *unsplit) split(b *Batch) error {
	text, separator, comma := string(l.text), l.of.dialect.Separator, l.of.dialect.Decimal == ','
	cells, start, number := b.cells, 0, l.first // start is where the row begins
	long := 0                                   // a column of the row with too long a text
	for from := 0; from <= len(text); {
		to := from
		quoted := l.quoted && from < len(text) && text[from] == '"'
		if quoted {
			to += 2 + strings.IndexByte(text[from+1:], '"')
		}
		for to < len(text) && text[to] != separator && text[to] != '\n' {
			to++
		}
		cell, ends := text[from:to], to == len(text) || text[to] == '\n'
		from = to + 1
		if ends {
			cell = strings.TrimSuffix(cell, "\r")
			if cell == "" && len(cells) == start { // a blank line
				number++
				continue
			}
		}
		if quoted {
			cell = cell[1 : len(cell)-1]
		}
		if len(cells) == cap(cells) {
			cells = slices.Grow(cells, 1)
		}
		cells = cells[:len(cells)+1] // of a text, so that no cell ever had more than these two
		c := &cells[len(cells)-1]
		c.Text, c.comma = cell, comma
		if len(cell) > l.of.bounds.CellText && long == 0 {
			long = len(cells) - start
		}
		if !ends {
			continue
		}
		row := cells[start:len(cells):len(cells)]
		if err := l.of.fits(number, row, long); err != nil {
			return err
		}
		b.rows = append(b.rows, Row{Number: number, Cells: row})
		start = len(cells)
		number++
	}
	b.cells = cells
	return nil
}

// quoted reads to the end of the text by package csv.
func (r *textReader) quoted(ctx context.Context) error {
	reader := csv.NewReader(bufio.NewReaderSize(r.in, 64<<10))
	reader.Comma = rune(r.dialect.Separator)
	reader.FieldsPerRecord = -1
	reader.ReuseRecord = true
	last := r.number - r.read // the line on which the record before ended, counted from where the reader begins
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
	if len(r.rows.rows) == 0 && ctx.Err() != nil { // once a batch
		return context.Cause(ctx)
	}
	cells, long := r.rows.row(len(record)), 0
	for i, text := range record {
		cells[i].Text, cells[i].comma = text, r.dialect.Decimal == ','
		if len(text) > r.bounds.CellText && long == 0 {
			long = i + 1
		}
	}
	if err := r.fits(r.number, cells, long); err != nil {
		return err
	}
	if !r.rows.end(r.number) {
		return errEnough
	}
	return nil
}

// fits returns the bound that a row goes beyond: there are so many rows, columns, or bytes in the
// cell of the column that is long, if it is not 0.
func (t *Text) fits(row int, cells []Cell, long int) error {
	switch {
	case row > t.bounds.Rows:
		return &BoundError{What: fmt.Sprintf("row %d", row), Where: t.name, Most: fmt.Sprintf("%d are read", t.bounds.Rows)}
	case len(cells) > t.bounds.Columns:
		return &BoundError{What: fmt.Sprintf("%d columns", len(cells)), Where: fmt.Sprintf("%s, row %d", t.name, row), Most: fmt.Sprintf("%d are read", t.bounds.Columns)}
	case long > 0:
		return t.bounds.cell(len(cells[long-1].Text), func() string { return t.name + ", " + Place{row, long}.String() })
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
