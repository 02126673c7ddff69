package job

import "example.com/closefit/examples/kit/files/planfile"

// file is a job file as it is written: every quantity a text, its unit in it.
type file struct {
	Title         string                     `toml:"title"`
	Note          string                     `toml:"note"`
	Date          string                     `toml:"date"`
	By            string                     `toml:"by"`
	Build         string                     `toml:"build"`
	Witness       string                     `toml:"witness"`
	Combine       string                     `toml:"combine"`
	Show          showTable                  `toml:"show"`
	Engine        *engineTable               `toml:"engine"`
	Instruments   map[string]instrumentTable `toml:"instruments"`
	Measure       map[string]measureTable    `toml:"measure"`
	Fits          []fitTable                 `toml:"fits"`
	RingPositions *ringTable                 `toml:"ring_positions"`
	Bobweight     *bobweightTable            `toml:"bobweight"`
	Compression   *compressionTable          `toml:"compression"`
	Temperatures  map[string]string          `toml:"temperatures"`
	Materials     map[string]string          `toml:"materials"`
	Warmth        map[string]warmthTable     `toml:"warmth"`
	Washers       *washersTable              `toml:"washers"`
	Shells        map[string]shellsTable     `toml:"shells"`
	Bolts         map[string]boltsTable      `toml:"bolts"`
	Trial         []planfile.Group           `toml:"trial"`
	Tightening    []planfile.Group           `toml:"tightening"`
	Film          *filmTable                 `toml:"film"`
	Accepted      []excuseTable              `toml:"accepted"`
	LeftOut       []excuseTable              `toml:"left_out"`
}

// showTable says in what units the record is printed.
type showTable struct {
	Length   string `toml:"length"`
	Places   *int   `toml:"length_places"`
	Pressure string `toml:"pressure"`
	Mass     string `toml:"mass"`
	Currency string `toml:"currency"`
}

// instrumentTable says what was measured with, and how far that can be trusted.
type instrumentTable struct {
	Kind         string   `toml:"kind"`
	Uncertainty  string   `toml:"uncertainty"`    // expanded, with the factor k
	K            *float64 `toml:"k"`              // 2 if it is not said
	Repeats      string   `toml:"repeats"`        // the part of the uncertainty that differs from reading to reading
	Freedom      *int     `toml:"freedom"`        // degrees of freedom, where a certificate states them
	LimitOfError string   `toml:"limit_of_error"` // what its maker promises that no reading exceeds
	SetOn        string   `toml:"set_on"`         // the instrument or the setting piece that it was set on
	Turn         string   `toml:"turn"`           // how far one turn of its thimble or its hand goes
	Widths       []string `toml:"widths"`
	Tolerance    string   `toml:"tolerance"`
	Blades       []string `toml:"blades"`
	Sure         []string `toml:"sure"` // the keys that were questioned, and stand
}

// boltsTable says of the bolts of one group which are new, which were looked at and are
// sound, and how long the used ones are.
type boltsTable struct {
	New            any               `toml:"new"`   // "all", or a list of them
	Sound          any               `toml:"sound"` // thread and head undamaged, no neck, runs down by hand
	Scrap          any               `toml:"scrap"`
	NewLength      string            `toml:"new_length"`
	LongestStretch string            `toml:"longest_stretch"`
	LongestLength  string            `toml:"longest_length"`
	With           string            `toml:"with"`
	Lengths        map[string]string `toml:"lengths"`
	NewLengths     map[string]string `toml:"new_lengths"` // of each, where they were measured when new
	Sure           []string          `toml:"sure"`
}
