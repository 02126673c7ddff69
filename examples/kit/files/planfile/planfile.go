package planfile

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/torque"
	"example.com/closefit/torque/examination"
	"example.com/closefit/units"
)

// The kinds of error in a plan file that neither TOML nor package torque finds. A
// *tomlfile.Error wraps one of them.
var (
	ErrMissing   = errors.New("missing")
	ErrAmbiguous = errors.New("more than one answer")
	ErrMisplaced = errors.New("has no meaning here")
)

type planTable struct {
	Title      string   `toml:"title"`
	Engine     string   `toml:"engine"`
	Build      string   `toml:"build"`
	Witness    string   `toml:"witness"`
	Bolts      []string `toml:"bolts"`
	Tightening []Group  `toml:"tightening"`
}

// A Group is a group of bolts as a file writes it, for files of one's own that have
// a list of them.
type Group struct {
	Group     string     `toml:"group"`
	On        string     `toml:"on"`
	Bolts     []string   `toml:"bolts"`
	Caps      [][]string `toml:"caps"`
	Circle    *Circle    `toml:"circle"`
	Places    []Place    `toml:"places"`
	Order     any        `toml:"order"`
	SingleUse *bool      `toml:"single_use"`
	OldBolts  *bool      `toml:"old_bolts"`     // in a trial assembly: the bolts are those that came out
	TrialTurn bool       `toml:"turn_in_trial"` // in a trial assembly: bolts that are used once are turned all the same
	First     []string   `toml:"first"`
	Stages    []Stage    `toml:"stages"`
	Bolt      *Bolt      `toml:"bolt"` // what is known of the bolts
}

// Named returns the names of the bolts that the group lists, in whichever way.
func (g Group) Named() []string {
	names := slices.Concat(g.Bolts, slices.Concat(g.Caps...))
	if g.Circle != nil {
		names = append(names, g.Circle.Bolts...)
	}
	for _, p := range g.Places {
		names = append(names, p.Bolt)
	}
	return names
}

// A Circle is bolts evenly spaced, clockwise from the top.
type Circle struct {
	Diameter string   `toml:"diameter"`
	Bolts    []string `toml:"bolts"`
}

// A Place is one bolt and where it stands.
type Place struct {
	Bolt string `toml:"bolt"`
	X    string `toml:"x"`
	Y    string `toml:"y"`
	Part string `toml:"part"`
}

// A Stage is what is done to each bolt of a group, and what follows.
type Stage struct {
	Torque         string  `toml:"torque"`
	HighTorque     bool    `toml:"high_torque"`
	Turn           string  `toml:"turn"`
	BeyondFullTurn bool    `toml:"beyond_full_turn"`
	BackOff        string  `toml:"back_off"`
	Order          any     `toml:"order"`
	During         *During `toml:"during"`
	Wait           string  `toml:"wait"`
	Check          string  `toml:"check"`
	Within         string  `toml:"within"`
	IfNot          string  `toml:"if_not"`
}

// During names the stage of another group.
type During struct {
	Group string `toml:"group"`
	Stage int    `toml:"stage"`
}

// A File is what a plan file says: the plan, and the work that it is for.
type File struct {
	Plan  *torque.Plan
	Bolts map[string]examination.Installed // what is known of the bolts, by the name of their group
	Identity
}

// Read makes the plan that src describes. The name is the file's, for errors. The file need not
// say what work it is for: that is asked by Identity.Work, where a ledger is kept or looked for.
func Read(name string, src []byte) (*File, error) {
	var t planTable
	places, wrong := tomlfile.Decode(name, src, &t)
	if places == nil {
		return nil, wrong
	}
	var errs tomlfile.Errors
	if t.Title == "" {
		errs = append(errs, places.Errorf("title", "title: %w; name the plan, so that its ledger can be told from others", ErrMissing))
	}
	plan, bad := Plan(t.Title, "tightening", t.Tightening, places)
	errs = append(errs, bad...)
	if plan != nil {
		r := &reader{places: places}
		for i, bolt := range t.Bolts {
			_, err := plan.StepsOf(bolt)
			r.planError(fmt.Sprintf("bolts[%d]", i), err)
		}
		errs = append(errs, r.errs...)
	}
	if err := places.All(wrong, errs); err != nil {
		return nil, err
	}
	known, _ := Bolts("tightening", t.Tightening, places) // what is wrong with it was found with the groups
	return &File{plan, known, Identify(places, "engine", t.Engine, "build", t.Build, t.Witness)}, nil
}

// Trial is the key of the groups of a trial assembly, in which everything comes off again.
const Trial = "trial"

// Plan makes a plan of the groups that a file lists under the key, Trial or another. The plan
// is nil if anything is wrong with it.
func Plan(title, key string, groups []Group, places *tomlfile.Places) (*torque.Plan, tomlfile.Errors) {
	r := &reader{places: places, key: key, index: map[string]int{}}
	made := r.groups(groups)
	if len(r.errs) > 0 {
		return nil, r.errs
	}
	plan, err := torque.NewPlan(title, made...)
	if err != nil {
		r.planErrors(err)
		return nil, r.errs
	}
	return plan, nil
}

// reader makes what a file says into groups, and gathers all that is wrong.
type reader struct {
	places *tomlfile.Places
	errs   tomlfile.Errors
	key    string         // that lists the groups
	index  map[string]int // of each group
}

func (r *reader) fail(path, format string, args ...any) {
	r.errs = append(r.errs, r.places.Errorf(path, format, args...))
}

// parse parses a text, which must be there.
func parse[T any](r *reader, path, text string, parse func(string) (T, error)) (v T) {
	if text == "" {
		r.fail(path, "%w", ErrMissing)
		return v
	}
	v, err := parse(text)
	if err != nil {
		r.errs = append(r.errs, r.places.Wrap(path, err))
	}
	return v
}

// interval is parse, and says whether the text could be read.
func interval[T any](r *reader, path, text string, read func(string) (T, error)) (v T, ok bool) {
	errs := len(r.errs)
	v = parse(r, path, text, read)
	return v, len(r.errs) == errs
}

func (r *reader) groups(tables []Group) []torque.Group {
	var groups []torque.Group
	for i, t := range tables {
		path := fmt.Sprintf("%s[%d]", r.key, i)
		if _, taken := r.index[t.Group]; !taken {
			r.index[t.Group] = i
		}
		g := torque.Group{Name: t.Group, On: t.On, Use: use(t.SingleUse),
			Pattern: r.pattern(path, t), Order: r.order(path+".order", t.Order)}
		for _, ask := range t.First {
			g.First = append(g.First, torque.Do(torque.Inspection{Ask: ask}))
		}
		for j, s := range t.Stages {
			g.Stages = append(g.Stages, r.stage(fmt.Sprintf("%s.stages[%d]", path, j), s))
		}
		r.trial(path, g, t)
		r.bolt(path+".bolt", t.Bolt)
		groups = append(groups, g)
	}
	return groups
}

// use returns what a file says of bolts that go back.
func use(singleUse *bool) torque.BoltUse {
	switch {
	case singleUse == nil:
		return torque.NotSaid
	case *singleUse:
		return torque.SingleUse
	}
	return torque.Reusable
}

// pattern reads a group's bolts, given in one of four ways.
func (r *reader) pattern(path string, t Group) []torque.Position {
	ways := 0
	for _, given := range []bool{len(t.Bolts) > 0, len(t.Caps) > 0, t.Circle != nil, len(t.Places) > 0} {
		if given {
			ways++
		}
	}
	switch {
	case ways > 1:
		r.fail(path, "bolts named in %d ways: %w; keep one of bolts, caps, circle and places", ways, ErrAmbiguous)
	case len(t.Caps) > 0:
		return torque.Caps(t.Caps...)
	case t.Circle != nil:
		diameter := parse(r, path+".circle.diameter", t.Circle.Diameter, units.ParseLength)
		return torque.Circle(diameter, t.Circle.Bolts...)
	case len(t.Places) > 0:
		var p []torque.Position
		for i, at := range t.Places {
			place := fmt.Sprintf("%s.places[%d]", path, i)
			p = append(p, torque.Position{Bolt: at.Bolt, Part: at.Part,
				X: parse(r, place+".x", at.X, units.ParseLength), Y: parse(r, place+".y", at.Y, units.ParseLength)})
		}
		return p
	}
	return torque.Row(t.Bolts...)
}

// order reads the name of an order or a list of bolts; nil if there is neither.
func (r *reader) order(path string, v any) torque.Sequence {
	switch v := v.(type) {
	case nil:
		return nil
	case string:
		var order torque.Arrangement
		if err := order.UnmarshalText([]byte(v)); err != nil {
			r.errs = append(r.errs, r.places.Wrap(path, err))
			return nil
		}
		return order
	case []any:
		order := torque.Given{}
		for i, bolt := range v {
			name, ok := bolt.(string)
			if !ok {
				r.fail(fmt.Sprintf("%s[%d]", path, i), "%s, where the name of a bolt belongs; write it in quotes", tomlfile.Said(bolt))
			}
			order = append(order, name)
		}
		return order
	}
	r.fail(path, `%s is no order; write "inside out", "outside in", "spiral", "cross", "rows" or "cap by cap", or list the bolts`, tomlfile.Said(v))
	return nil
}

func (r *reader) stage(path string, t Stage) torque.Stage {
	s := torque.Stage{Pull: r.pull(path, t), Order: r.order(path+".order", t.Order)}
	if t.During != nil {
		s.DuringGroup, s.DuringStage = t.During.Group, t.During.Stage
	}
	if t.Wait != "" {
		s.Then = append(s.Then, torque.Do(torque.Wait{For: parse(r, path+".wait", t.Wait, parseWait)}))
	}
	if t.Check != "" {
		check := torque.Inspection{Ask: t.Check, IfNot: t.IfNot}
		if t.Within != "" {
			check.Within = parse(r, path+".within", t.Within, units.ParseLengthInterval)
			check.In = UnitOf(t.Within, units.Parse[units.LengthUnit])
		}
		s.Then = append(s.Then, torque.Do(check))
	} else if t.Within+t.IfNot != "" {
		r.fail(path, "limits of a check, or what to do if it fails, and no check: %w; write check = \"…?\" with them", ErrMissing)
	}
	return s
}

// pull reads what a stage does.
func (r *reader) pull(path string, t Stage) (none torque.Action) {
	ways := 0
	for _, text := range []string{t.Torque, t.Turn, t.BackOff} {
		if text != "" {
			ways++
		}
	}
	switch {
	case ways > 1:
		r.fail(path, "%d things to do in one stage: %w; make a stage of each", ways, ErrAmbiguous)
		return none
	case t.HighTorque && t.Torque == "":
		r.fail(path+".high_torque", "high_torque and no torque: %w; take it out, or write torque with it", ErrMissing)
		return none
	case t.BeyondFullTurn && t.Turn == "":
		r.fail(path+".beyond_full_turn", "beyond_full_turn and no turn: %w; take it out, or write turn with it", ErrMissing)
		return none
	case t.Torque != "":
		within, ok := interval(r, path+".torque", t.Torque, units.Parse[units.TorqueInterval])
		if !ok {
			return none
		}
		if !within.Bounded() {
			r.fail(path+".torque", "%s has only one limit; write a torque, or both limits", t.Torque)
			return none
		}
		return torque.Do(torque.Tighten{Within: within, In: UnitOf(t.Torque, units.Parse[units.TorqueUnit]), High: t.HighTorque})
	case t.Turn != "":
		within, ok := interval(r, path+".turn", t.Turn, units.Parse[units.AngleInterval])
		if !ok {
			return none
		}
		if !within.Bounded() {
			r.fail(path+".turn", "%s has only one limit; write an angle, or both limits", t.Turn)
			return none
		}
		return torque.Do(torque.Turn{Within: within, Beyond: t.BeyondFullTurn})
	case t.BackOff == "free":
		return torque.Do(torque.BackOff{})
	case t.BackOff != "":
		by, ok := interval(r, path+".back_off", t.BackOff, units.ParseAngle)
		if !ok {
			return none
		}
		if by.IsZero() {
			r.fail(path+".back_off", `back_off = %q loosens nothing; write how far, as in "90°", or "free" for until the bolt turns freely`, t.BackOff)
			return none
		}
		return torque.Do(torque.BackOff{By: by})
	default:
		r.fail(path, `a stage that does nothing: %w; write torque = "23 N·m", turn = "55°" or back_off = "free"`, ErrMissing)
	}
	return none
}

// UnitOf returns the unit that a quantity or an interval is written in, to print it in the same;
// the zero unit, the dimension's first, if there is none. The parser is units.Parse of the unit.
func UnitOf[U any](text string, parse func(string) (U, error)) (none U) {
	for i := range text {
		if unit, err := parse(text[i:]); err == nil {
			return unit
		}
	}
	return none
}

// planErrors notes what is wrong with a plan where the file says it.
func (r *reader) planErrors(err error) {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		for _, err := range joined.Unwrap() {
			r.planErrors(err)
		}
		return
	}
	path := r.key
	var bad *torque.PlanError
	if errors.As(err, &bad) {
		if i, ok := r.index[bad.Group]; ok {
			path = fmt.Sprintf("%s[%d]", r.key, i)
		}
		switch {
		case bad.Part == "Use":
			path += ".group"
		case bad.Stage > 0:
			path += fmt.Sprintf(".stages[%d]", bad.Stage-1)
		case bad.Part == "Pattern":
			path += ".bolts"
		case bad.Part == "Order":
			path += ".order"
		}
	}
	r.planError(path, err)
}

// planError notes an error of a plan at a place in the file, with its advice as a file has it.
func (r *reader) planError(path string, err error) {
	var bad *torque.PlanError
	if !errors.As(err, &bad) {
		return
	}
	inFile, said := *bad, *bad.Err
	said.Fix = inTOML.Replace(said.Fix)
	if strings.HasPrefix(said.Found, "it says ") { // the others may quote names
		said.Found = inTOML.Replace(said.Found)
	}
	inFile.Err = &said
	r.errs = append(r.errs, r.places.Wrap(path, &inFile))
}

// inTOML puts what package torque advises to write in Go as a file has it.
var inTOML = strings.NewReplacer(
	"set Use to SingleUse, or to Reusable if", "write single_use = true, or single_use = false if",
	"it says High", "it says high_torque", "set High", "write high_torque = true beside it", "take High out", "take high_torque out",
	"it says Beyond", "it says beyond_full_turn", "set Beyond", "write beyond_full_turn = true beside it", "take Beyond out", "take beyond_full_turn out",
	"back off until it turns freely", `write back_off = "free"`,
	"use Row, Caps or Circle", "list them in bolts, caps or circle",
	"set the Part of each bolt, or use Caps", "list them in caps, or write part for each of the places",
)
