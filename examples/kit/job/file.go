package job

import "example.com/closefit/examples/kit/files/planfile"

// file is a job file as it is written: every quantity a text, its unit in it.
type file struct {
	Title       string                     `toml:"title"`
	Note        string                     `toml:"note"`
	Date        string                     `toml:"date"`
	By          string                     `toml:"by"`
	Combine     string                     `toml:"combine"`
	Show        showTable                  `toml:"show"`
	Instruments map[string]instrumentTable `toml:"instruments"`
	Passages    []passageTable             `toml:"passages"`
	Jets        *jetsTable                 `toml:"jets"`
	Bearings    []bearingsTable            `toml:"bearings"`
	EndPlay     *endPlayTable              `toml:"end_play"`
	RodSidePlay *gapsTable                 `toml:"rod_side_play"`
	RingGaps    []gapsTable                `toml:"ring_gaps"`
	Bolts       []boltsTable               `toml:"bolts"`
	Tightening  []planfile.Group           `toml:"tightening"`
}

// showTable says in what units the record is printed.
type showTable struct {
	Length   string `toml:"length"`
	Places   *int   `toml:"length_places"`
	Pressure string `toml:"pressure"`
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
}

type passageTable struct {
	Name  string `toml:"name"`
	State string `toml:"state"`
}

type jetsTable struct {
	Opens string         `toml:"opens"`
	With  string         `toml:"with"`
	Tests []jetTestTable `toml:"tests"`
}

type jetTestTable struct {
	Jet  string `toml:"jet"`
	Shut string `toml:"shut"`
	Open string `toml:"open"`
}

type bearingsTable struct {
	Name      string             `toml:"name"`
	Locations []string           `toml:"locations"`
	Clearance string             `toml:"clearance"`
	Codes     *codesTable        `toml:"codes"`
	Shells    *shellsTable       `toml:"shells"`
	Walls     *wallsTable        `toml:"walls"`
	Stock     []partTable        `toml:"stock"`
	Packs     []packTable        `toml:"packs"`
	Bores     *boresTable        `toml:"bores"`
	Readings  []clearanceReading `toml:"readings"`
}

// boresTable says how the housing bores of a set were read. A bore of which that is not
// said proves nothing about a clearance.
type boresTable struct {
	Bolts  string `toml:"bolts"`  // "as for assembly", "loose", or a torque
	Shells string `toml:"shells"` // "out" or "in"
}

// codesTable has the rows of codes as stamped: those of the housings, which choose
// the upper shells, and those of the journals, which choose the lower ones.
type codesTable struct {
	Upper    string    `toml:"upper"`
	Lower    string    `toml:"lower"`
	UpperRow *rowTable `toml:"upper_row"`
	LowerRow *rowTable `toml:"lower_row"`
}

// rowTable says how a row of codes is read.
type rowTable struct {
	Begins  string `toml:"begins"`  // the location to which its first code belongs
	Mark    string `toml:"mark"`    // what stands beside the codes and is none
	MarkAt  string `toml:"mark_at"` // the location beside which it stands
	Upright bool   `toml:"upright"` // it is known to stand the right way up
}

// shellsTable has the grade of shell for each code.
type shellsTable struct {
	Upper map[string]string `toml:"upper"`
	Lower map[string]string `toml:"lower"`
}

// wallsTable has the wall of each grade of shell that exists.
type wallsTable struct {
	Upper map[string]string `toml:"upper"`
	Lower map[string]string `toml:"lower"`
}

// partTable is a number of shells of one half and grade. Without a count it is one.
type partTable struct {
	Half  string `toml:"half"`
	Grade string `toml:"grade"`
	Count *int   `toml:"count"`
}

type packTable struct {
	Name  string      `toml:"name"`
	Price string      `toml:"price"`
	Holds []partTable `toml:"holds"`
}

// clearanceReading is a running clearance read from a crush strip, or the sizes
// that it follows from.
type clearanceReading struct {
	Location  string     `toml:"location"`
	Strip     string     `toml:"strip"`
	Bore      string     `toml:"bore"`
	UpperWall string     `toml:"upper_wall"`
	LowerWall string     `toml:"lower_wall"`
	Journal   string     `toml:"journal"`
	With      *withTable `toml:"with"`
}

// withTable names the instruments that sizes were measured with.
type withTable struct {
	Strip   string `toml:"strip"`
	Bore    string `toml:"bore"`
	Walls   string `toml:"walls"`
	Journal string `toml:"journal"`
}

type endPlayTable struct {
	Limits  string     `toml:"limits"`
	Reading gapReading `toml:"reading"`
}

type gapsTable struct {
	Name     string       `toml:"name"`
	Limits   string       `toml:"limits"`
	Readings []gapReading `toml:"readings"`
}

// gapReading is a gap read with feeler blades (goes, stops) or with a dial (from,
// to), or a value with its uncertainty (gap).
type gapReading struct {
	Location string `toml:"location"`
	Goes     string `toml:"goes"`
	Stops    string `toml:"stops"`
	From     string `toml:"from"`
	To       string `toml:"to"`
	Gap      string `toml:"gap"`
	With     string `toml:"with"`
}

type boltsTable struct {
	Name           string       `toml:"name"`
	NewLength      string       `toml:"new_length"`
	LongestStretch string       `toml:"longest_stretch"`
	LongestLength  string       `toml:"longest_length"`
	Lengths        []boltLength `toml:"lengths"`
}

type boltLength struct {
	Bolt      string `toml:"bolt"`
	Length    string `toml:"length"`
	NewLength string `toml:"new_length"`
	With      string `toml:"with"`
}
