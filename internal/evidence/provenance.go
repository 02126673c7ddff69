package evidence

// Provenance says how a wanted value came to be known.
type Provenance string

const (
	Published        Provenance = "published"                  // a print of the source, or its publisher's electronic edition, was read
	Reproduced       Provenance = "reproduced"                 // read in a copy, or in another work that prints the source's value; the source says in which
	Derived          Provenance = "derived"                    // follows from printed values by the arithmetic in the note
	WorkedExample    Provenance = "worked example"             // the printed answer of a textbook's example
	ReferenceLibrary Provenance = "reference library"          // computed by independent software, named with its version
	CommonPractice   Provenance = "common practice, no source" // a fact of the trade that nobody prints
	FromMemory       Provenance = "from memory"                // recalled; the source named was not read
)

// Provenances returns every provenance, the strongest first.
func Provenances() []Provenance {
	return []Provenance{Published, Reproduced, Derived, WorkedExample, ReferenceLibrary, CommonPractice, FromMemory}
}
