package sheet

import (
	"errors"
	"fmt"
	"io"
	"os"
)

// ErrBound is the kind of every error about something too large.
var ErrBound = errors.New("beyond a bound")

// A BoundError says which bound was passed, where, and by what.
type BoundError struct {
	What  string // what was found: "a row of 16384 columns"
	Where string // "sheet Mains, row 7"; may be empty
	Most  string // what is read at most
}

func (e *BoundError) Error() string {
	where := ""
	if e.Where != "" {
		where = e.Where + ": "
	}
	return fmt.Sprintf("%s%s; at most %s", where, e.What, e.Most)
}

// Unwrap returns ErrBound.
func (e *BoundError) Unwrap() error { return ErrBound }

// Bounds are how much of a file is read. They are far above what a workshop's
// sheets need and far below what hurts.
type Bounds struct {
	FileSize    int64 // of the file, bytes
	Columns     int   // in use in a row
	Rows        int   // of a sheet
	CellText    int   // of one cell, bytes
	Parts       int   // in a workbook's archive
	SheetPart   int64 // unpacked, of one sheet
	StringsPart int64 // unpacked, of the shared strings
	OtherParts  int64 // unpacked, of all others together
	Expansion   int64 // how many times its packed size a part may unpack to, above 1 MB
	ModelParts  int64 // unpacked, of the sheets of a Book together
	ModelCells  int   // of a Book, that hold anything
	ModelText   int   // of a Book's cells, bytes
	Areas       int   // merged areas and array formulas of a Book
	Names       int   // defined names of a Book
}

// DefaultBounds returns the bounds that the program uses.
func DefaultBounds() Bounds {
	return Bounds{
		FileSize:    256 << 20,
		Columns:     1024,
		Rows:        10_000_000,
		CellText:    32 << 10,
		Parts:       2000,
		SheetPart:   512 << 20,
		StringsPart: 32 << 20,
		OtherParts:  32 << 20,
		Expansion:   200,
		ModelParts:  256 << 20,
		ModelCells:  2_500_000,
		ModelText:   64 << 20,
		Areas:       100_000,
		Names:       20_000,
	}
}

// String says the bounds in words, for a program's help.
func (b Bounds) String() string {
	return fmt.Sprintf(`  a file                     %d MB
  rows in a sheet            %d (a workbook has at most 1048576)
  columns in use             %d
  text in a cell             %d KB
  parts in a workbook        %d
  a sheet, unpacked          %d MB; all that is no sheet, %d MB
  shared strings, unpacked   %d MB
  unpacked against packed    %d times, for parts above 1 MB
  a file held whole: sheets of %d MB unpacked, %d cells, %d MB of text, %d merged areas and array formulas, %d names
`, b.FileSize>>20, b.Rows, b.Columns, b.CellText>>10, b.Parts, b.SheetPart>>20, b.OtherParts>>20, b.StringsPart>>20, b.Expansion, b.ModelParts>>20, b.ModelCells, b.ModelText>>20, b.Areas, b.Names)
}

// stat looks at a file before it is opened: one that is no plain file might never
// end, or wait for ever.
func (b Bounds) stat(name string) (size int64, err error) {
	info, err := os.Stat(name)
	if err != nil {
		return 0, err
	}
	if !info.Mode().IsRegular() {
		return 0, fmt.Errorf("%s is no plain file; save the sheet to a file and name that", name)
	}
	if info.Size() > b.FileSize {
		return 0, &BoundError{What: fmt.Sprintf("a file of %d bytes", info.Size()), Where: name, Most: fmt.Sprintf("%d are read", b.FileSize)}
	}
	return info.Size(), nil
}

// cell returns a *BoundError if a cell's text is too long. where is called for it
// alone.
func (b Bounds) cell(bytes int, where func() string) error {
	if bytes <= b.CellText {
		return nil
	}
	return &BoundError{What: fmt.Sprintf("a cell of %d bytes", bytes), Where: where(), Most: fmt.Sprintf("%d are read", b.CellText)}
}

// longPiece is how long a record of a text file or a tag, text or comment of an XML
// part may be: the libraries that read them hold one whole in memory.
const longPiece = 1 << 20

// A pieceReader is a reader that gives up with ErrBound when one piece is too long.
type pieceReader struct {
	io.Reader
	read int // of the piece
}

// begin says that a piece begins.
func (p *pieceReader) begin() { p.read = 0 }

func (p *pieceReader) Read(b []byte) (int, error) {
	if p.read > longPiece {
		return 0, ErrBound
	}
	n, err := p.Reader.Read(b)
	p.read += n
	return n, err
}
