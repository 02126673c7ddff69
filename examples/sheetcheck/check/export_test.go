package check

// Unsifted makes the options of a run that passes no rows before their claims are made.
func Unsifted(o Options) Options {
	o.unsifted = true
	return o
}

// Looked makes the options of a run that lists the rows that are looked at closely.
func Looked(o Options, rows *[]int) Options {
	o.looked = func(row int) { *rows = append(*rows, row) }
	return o
}
