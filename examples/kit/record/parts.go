package record

import (
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/page"
)

// Card is the bench card, for a page that shows it among other things. Style has the rules of it.
func Card(a *job.Assessment) page.Markup { return cardSection(a) }

// Shopping is the shells of each location, and what to buy; nothing where the job has none.
func Shopping(a *job.Assessment) page.Markup { return shells(a) }

// Style is the rules of a record's parts, after those of package page.
func Style() string { return pageCSS }
