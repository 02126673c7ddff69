package annotate

import "example.com/closefit/examples/sheetcheck/sheet"

// A Kind is what a mark means, the worst first. Each has a colour.
type Kind uint8

const (
	Wrong     Kind = iota
	Unfounded      // nothing stands behind it, or it is not proven
	Latent         // a fault that does not show yet
	Follows        // of another finding
	kinds
)

// colour returns the colour of the marked cells. All are light enough for dark letters, and
// none says anything that the comment does not.
func (k Kind) colour() string {
	return [kinds]string{"FFF6B8A6", "FFDCC9F2", "FFFFEBA8", "FFC9DDF2"}[k]
}

// An Answer is what a copy says.
type Answer struct {
	Lines []string // at the top of the first sheet; the first is its title
	Rows  []Row    // below, the worst first
	Below []string // at the end
	Marks []Mark   // on the sheets, the worst first; one for each cell
}

// A Mark is a cell that is coloured, and the text of its comment.
type Mark struct {
	Sheet string
	At    sheet.Place
	Kind  Kind
	Text  string
}

// A Row is a finding's row on the first sheet.
type Row struct {
	Kind         Kind
	Name         string // of the kind, in words
	Sheet        string
	At           sheet.Area // where the link leads
	Found, Right string
	Cause        string
	Formula      string // proposed; may be empty
}

// What a copy has at most. Office programs draw a box for each comment, which is slow for many,
// and keep at most 65,530 links on a sheet.
const (
	mostRows     = 10_000
	mostComments = 10_000
	mostBelow    = 1_000
)
