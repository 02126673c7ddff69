package check

// The catalogue of mistakes, by the names under which they are reported.
const (
	StoredText   = "text where a number belongs"
	Stale        = "stale stored value"
	OneWall      = "one wall instead of two"
	Added        = "added instead of subtracted"
	LeftOut      = "something left out"
	WrongWay     = "the wrong way round"
	OtherRule    = "another rule"
	Inch         = "inch for millimetre"
	FootPounds   = "ft-lb for in-lb"
	OtherUnit    = "another unit"
	DecimalPoint = "decimal point moved"
	Radius       = "radius for diameter"
	Digits       = "two digits exchanged"
	Nominal      = "nominal instead of measured"
	Neighbour    = "neighbour's row or column"
	Absolute     = "absolute reference copied down"
	CutOff       = "cut off instead of rounded"

	Follows      = "follows from a wrong value"
	RoundedFirst = "rounded before the comparison"
	Swapped      = "limits swapped"
	OneLimit     = "one limit not compared"
	Strict       = "the limit itself refused"
	Residue      = "binary floating-point residue"

	Uncertain = "reading less certain than its distance from the limit"
	NoNumber  = "not a number"
	NoReading = "no reading behind it"
	NoWord    = "a word the map does not know"
	NoLimit   = "no limit to judge by"
	ErrorCell = "an error in place of a verdict"
	FarOff    = "far from nominal"
	NoAnswer  = "cannot be recomputed"
)
