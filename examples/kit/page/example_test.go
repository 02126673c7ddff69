package page_test

import (
	"fmt"
	"math"
	"strings"

	"example.com/closefit/examples/kit/page"
)

func ExampleEl() {
	name := `main <3> "rear"`
	fmt.Println(page.El("p", page.Class("note"), page.Attr("title", name), page.Text(name), page.El("br"), page.El("b", page.Text("open"))))
	// Output: <p class="note" title="main &lt;3&gt; &#34;rear&#34;">main &lt;3&gt; &#34;rear&#34;<br><b>open</b></p>
}

func ExampleEach() {
	fmt.Println(page.El("ul", page.Each([]string{"0.024 mm", "<0.048 mm"}, func(x string) page.Markup { return page.El("li", page.Text(x)) })))
	// Output: <ul><li>0.024 mm</li><li>&lt;0.048 mm</li></ul>
}

// A page without a script allows none.
func ExampleDocument() {
	var b strings.Builder
	page.Document{Title: "A & B", Body: page.El("main", page.El("h1", page.Text("A & B")))}.Write(&b)
	before, after, _ := strings.Cut(b.String(), "<style>")
	_, after, _ = strings.Cut(after, "</style>")
	fmt.Print(before, after)
	// Output:
	// <!DOCTYPE html>
	// <html lang="en">
	// <head>
	// <meta charset="utf-8">
	// <meta http-equiv="Content-Security-Policy" content="default-src &#39;none&#39;; style-src &#39;unsafe-inline&#39;; img-src data:; base-uri &#39;none&#39;; form-action &#39;none&#39;">
	// <meta name="viewport" content="width=device-width, initial-scale=1">
	// <meta name="referrer" content="no-referrer">
	// <title>A &amp; B</title>
	//
	// </head>
	// <body>
	// <main><h1>A &amp; B</h1></main></body>
	// </html>
}

// A line breaks where there is no number.
func ExampleLines() {
	c := page.Lines{Title: "Least film", X: page.Axis{Name: "clearance", Unit: "mm"}, Y: page.Axis{Unit: "µm"},
		Lines: []page.Series{{Name: "10W-40", X: []float64{0.02, 0.03, 0.04}, Y: []float64{3.1, 2.9, math.NaN()}}, {Name: "5W-30", X: []float64{0.02, 0.03, 0.04}, Y: []float64{2.4, 2.2, 2.1}}}}
	svg := c.SVG().String()
	_, after, _ := strings.Cut(svg, "<desc>")
	said, _, _ := strings.Cut(after, "</desc>")
	fmt.Println(said)
	// Output: 10W-40: 3.10 µm at 0.0200 mm, 2.90 µm at 0.0300 mm; 5W-30: 2.40 µm at 0.0200 mm, 2.10 µm at 0.0400 mm
}
