package measuring

import (
	"fmt"
	"io"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/record"
)

// Write writes a sheet as text or as HTML.
func Write(w io.Writer, f record.Format, s *job.Sheet) error {
	switch f {
	case record.Text:
		return writeText(w, s)
	case record.HTML:
		return writeHTML(w, s)
	}
	return fmt.Errorf("a measuring sheet in the format %q; write text or html", f)
}

// caution stands at the head of a sheet.
const caution = "The engine maker's manual comes first: its limits, and its way to measure. Parts and instruments at one temperature, clean and dry."

// stations says how a row of readings is written into the job.
const stations = "Planes and directions go into the job as \"A1 A2; B1 B2 mm\"."

// open counts the readings of a sheet.
func open(s *job.Sheet) (n int) {
	for _, p := range s.Parts {
		for _, l := range p.Lines {
			n += len(l.Readings)
		}
	}
	return n
}

// pictures are the names of the pictures of a part, each once.
func pictures(p job.SheetPart) (names []string) {
	seen := map[string]bool{"": true}
	for _, l := range p.Lines {
		if !seen[l.Picture] {
			seen[l.Picture] = true
			names = append(names, l.Picture)
		}
	}
	return names
}
