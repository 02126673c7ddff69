package sheet

import (
	"context"
	"fmt"
	"iter"
	"path/filepath"
	"strings"
)

// A File is an opened spreadsheet file. Its rows can be read any number of times.
type File interface {
	Sheets() []string
	Batches(ctx context.Context, sheet string) iter.Seq2[*Batch, error]
	Load(ctx context.Context) (*Book, error)
	Close() error
}

// Open opens a file by its ending: .xlsx and .xlsm as a workbook, .ods as an OpenDocument
// sheet, .csv and .tsv and .txt as separated values, written as d says. A .tsv file has tabs
// unless d says otherwise.
func Open(name string, d Dialect, b Bounds) (File, error) {
	switch ending := strings.ToLower(filepath.Ext(name)); ending {
	case ".xlsx", ".xlsm":
		return OpenWorkbook(name, b)
	case ".ods":
		return OpenDocument(name, b)
	case ".csv", ".tsv", ".txt":
		if d.Separator == 0 && ending == ".tsv" {
			d.Separator = '\t'
		}
		return OpenText(name, d, b)
	case ".xls", ".xlsb":
		return nil, fmt.Errorf("%s is a workbook of a kind that is not read; open it in a spreadsheet program, save it as .xlsx and check that file", name)
	default:
		return nil, fmt.Errorf("%s: files that end in %q are not read; .xlsx, .xlsm, .ods, .csv and .tsv are", name, ending)
	}
}
