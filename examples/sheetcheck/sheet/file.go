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
	Close() error
}

// Open opens a file by its ending: .xlsx and .xlsm as a workbook, .csv and .tsv
// and .txt as separated values, written as d says. A zero separator is a tab in a .tsv
// file and a comma elsewhere.
func Open(name string, d Dialect, b Bounds) (File, error) {
	switch ending := strings.ToLower(filepath.Ext(name)); ending {
	case ".xlsx", ".xlsm":
		return OpenWorkbook(name, b)
	case ".csv", ".tsv", ".txt":
		if d.Separator == 0 {
			d.Separator = ','
			if ending == ".tsv" {
				d.Separator = '\t'
			}
		}
		return OpenText(name, d, b)
	case ".ods":
		return nil, fmt.Errorf("%s is an OpenDocument sheet; convert a copy first: libreoffice --headless --convert-to xlsx %q", name, filepath.Base(name))
	case ".xls":
		return nil, fmt.Errorf("%s is a workbook of the older kind; save it as .xlsx first", name)
	default:
		return nil, fmt.Errorf("%s: files that end in %q are not read; .xlsx, .csv and .tsv are", name, ending)
	}
}
