package page

// OnLimits returns a reading drawn over its limits, as long as a word: a picture of what stands
// in figures beside it. Each begins so far from the left and is so wide, in parts of the whole scale.
func OnLimits(limitsFrom, limitsWide, readingFrom, readingWide float64) Markup {
	const width, least = 100, 1.5
	wide := max(least, width*readingWide)
	from := min(width*readingFrom, width-wide)
	place := func(name constant, v float64) Attribute { return Attribute{string(name), decimal(v, 2)} }
	return El("svg", Class("chart"), Attr("viewBox", "0 0 100 12"), Attr("preserveAspectRatio", "none"), Attr("aria-hidden", "true"),
		El("rect", Class("scale"), Attr("width", "100"), Attr("height", "12")),
		El("rect", Class("limits"), place("x", width*limitsFrom), place("width", width*limitsWide), Attr("height", "12")),
		El("rect", Class("reading"), place("x", from), Attr("y", "4"), place("width", wide), Attr("height", "4")))
}
