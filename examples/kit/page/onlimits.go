package page

// OnLimits returns a reading drawn over its limits, as long as a word: a picture of what stands
// in figures beside it. Each begins so far from the left and is so wide, in parts of the whole scale.
func OnLimits(limitsFrom, limitsWide, readingFrom, readingWide float64) Markup {
	const width, least = 100, 1.5
	wide := max(least, width*readingWide)
	from := min(width*readingFrom, width-wide)
	place := func(name constant, v float64) Attribute { return Attribute{string(name), decimal(v, 2), true} }
	return El("svg", onLimits, scaleOnLimits,
		El("rect", limitsOnLimits, place("x", width*limitsFrom), place("width", width*limitsWide)),
		El("rect", readingOnLimits, place("x", from), place("width", wide)))
}

// What all of them have, made once: a record has thousands.
var (
	onLimits        = Attributes(Class("chart"), Attr("viewBox", "0 0 100 12"), Attr("preserveAspectRatio", "none"), Attr("aria-hidden", "true"))
	scaleOnLimits   = Part(El("rect", Class("scale"), Attr("width", "100"), Attr("height", "12")))
	limitsOnLimits  = Attributes(Class("limits"), Attr("height", "12"))
	readingOnLimits = Attributes(Class("reading"), Attr("y", "4"), Attr("height", "4"))
)
