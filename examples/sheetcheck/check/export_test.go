package check

// Unsifted makes the options of a run that passes no rows before their claims are made.
func Unsifted(o Options) Options {
	o.unsifted = true
	return o
}
