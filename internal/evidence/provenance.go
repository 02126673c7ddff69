package evidence

// Provenance says how a wanted value came to be known.
type Provenance string

const (
	Published        Provenance = "published"                  // printed in a standard, handbook or manual
	WorkedExample    Provenance = "worked example"             // the printed answer of a textbook's example
	ReferenceLibrary Provenance = "reference library"          // computed by independent software, named with its version
	CommonPractice   Provenance = "common practice, no source" // a fact of the trade that nobody prints
	FromMemory       Provenance = "from memory"                // recalled; the source named was not read
)

// Provenances returns every provenance, the strongest first.
func Provenances() []Provenance {
	return []Provenance{Published, WorkedExample, ReferenceLibrary, CommonPractice, FromMemory}
}
