package job

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/units"
	"example.com/closefit/units/measure"
)

// The kinds of error in a job file that neither TOML nor a package of the
// library finds. A *tomlfile.Error wraps one of them.
var (
	ErrMissing   = errors.New("missing")
	ErrTwice     = errors.New("given twice")
	ErrCount     = errors.New("wrong number")
	ErrUnknown   = errors.New("unknown name")
	ErrNotSure   = errors.New("a value without its uncertainty")
	ErrAmbiguous = errors.New("more than one answer")
	ErrCircle    = errors.New("instruments set on each other in a circle")
)

// reader makes what a job file says into values, and gathers all that is wrong
// with it.
type reader struct {
	places *tomlfile.Places
	folder fs.FS // that the job lies in; nil if it lies in none
	errs   tomlfile.Errors

	declared    map[string]instrumentTable // every instrument as the file has it
	instruments map[string]instrument
	atWorst     bool
	engine      *Engine
	inches      bool // the job is in inches
	lines       []line
	cold        map[string]bool       // the instruments whose temperature was asked for
	rings       []string              // whose gaps have rules for where they stand
	bore        measure.LengthReading // the nominal one
}

// unit is the one that lengths are said in.
func (r *reader) unit() units.LengthUnit {
	if r.inches {
		return units.Inch
	}
	return units.Millimetre
}

// fail notes an error at the path.
func (r *reader) fail(path, format string, args ...any) {
	r.errs = append(r.errs, r.places.Errorf(path, format, args...))
}

// check notes err, if it is one, at the path, and reports whether it is none.
func (r *reader) check(path string, err error) bool {
	if err != nil {
		e := r.places.Wrap(path, err)
		var wrong *units.Error
		if r.inches && errors.As(err, &wrong) && !strings.Contains(wrong.Where, "mm") { // what is offered is in millimetres
			e.What = strings.ReplaceAll(e.What, ` mm"`, ` in"`)
		}
		r.errs = append(r.errs, e)
	}
	return err == nil
}

// read parses the text at the path; a text that is not there is an error.
func read[T any](r *reader, path, text string, parse func(string) (T, error)) (v T, ok bool) {
	if !r.present(path, text) {
		return v, false
	}
	v, err := parse(text)
	return v, r.check(path, err)
}

// readIf is read for a text that may be left out.
func readIf[T any](r *reader, path, text string, parse func(string) (T, error)) (v T, ok bool) {
	if text == "" {
		return v, false
	}
	return read(r, path, text, parse)
}

// present notes an error unless there is a text at the path.
func (r *reader) present(path, text string) bool {
	if strings.TrimSpace(text) == "" {
		key := path[strings.LastIndexAny(path, ".")+1:]
		r.fail(path, "%w; write %s = \"...\"", ErrMissing, key)
		return false
	}
	if strings.TrimSpace(text) != text {
		r.fail(path, "%q has spaces around it; write %q", text, strings.TrimSpace(text))
		return false
	}
	return true
}

// names notes an error for each name in a list that is empty or there before.
func (r *reader) names(path string, names []string, what string) {
	first := map[string]int{}
	for i, name := range names {
		at := fmt.Sprintf("%s[%d]", path, i)
		if strings.TrimSpace(name) == "" {
			r.fail(at, "%s without a name: %w; write one", what, ErrMissing)
			continue
		}
		if name != strings.TrimSpace(name) {
			r.fail(at, "%s %q has spaces around it; write %q", what, name, strings.TrimSpace(name))
			continue
		}
		if j, ok := first[name]; ok {
			r.fail(at, "%s %q: %w, first as number %d of the list; give each a name of its own", what, name, ErrTwice, j+1)
			continue
		}
		first[name] = i
	}
}

// once notes an error if the name was seen before, at the path given first.
func (r *reader) once(path, name, what string, seen map[string]string) bool {
	if before, ok := seen[name]; ok {
		r.fail(path, "%s %q: %w, first on line %d; keep one", what, name, ErrTwice, r.places.Line(before))
		return false
	}
	seen[name] = path
	return true
}

// oneOf notes an error unless the name is one of those known.
func (r *reader) oneOf(path, name, what string, known []string) bool {
	if len(known) == 0 {
		return false // that there are none is an error of its own
	}
	if slices.Contains(known, name) {
		return true
	}
	r.unknown(path, what, name, known)
	return false
}

// unknown notes an error for a name that is none of those known, with the nearest of
// them.
func (r *reader) unknown(path, what, name string, known []string) {
	if i := slices.IndexFunc(known, func(k string) bool { return strings.EqualFold(k, strings.TrimSpace(name)) }); i >= 0 {
		r.fail(path, "%s %q: %w; write %q", what, name, ErrUnknown, known[i])
		return
	}
	if near := tomlfile.Nearest(name, known); near != "" && len(name) > 2 { // any short name is near every other
		r.fail(path, "%s %q: %w; write %q", what, name, ErrUnknown, near)
		return
	}
	own := ""
	if strings.HasPrefix(path, "engine.inspect") || strings.HasPrefix(path, "measure.") && what == "line" {
		own = "; what no line is of, such as a valve clearance, is a fit of the engine's own: write it under [[fits]]"
	}
	const many = 20
	if len(known) > many {
		if known = alike(name, known); len(known) == 0 || len(known) > many {
			r.fail(path, "%s %q: %w, and none of them is like it; shortblock -new lists them for an engine%s", what, name, ErrUnknown, own)
			return
		}
	}
	r.fail(path, "%s %q: %w; write one of %s%s", what, name, ErrUnknown, strings.Join(known, ", "), own)
}

// alike are the names that have the longest word in common with one: its last, of several.
func alike(name string, known []string) (list []string) {
	words := strings.Fields(name)
	slices.Reverse(words)
	slices.SortStableFunc(words, func(a, b string) int { return len(b) - len(a) })
	for _, w := range words {
		for _, k := range known {
			if slices.Contains(strings.Fields(k), w) {
				list = append(list, k)
			}
		}
		if list != nil {
			return list
		}
	}
	return nil
}

// largest is the largest size that a job may have: no engine has a part of it.
var largest = units.Metre.OfInt(10)

// oneFigure refuses limits of one figure, which nothing that is measured can keep.
func (r *reader) oneFigure(path, text string) {
	text = strings.TrimLeft(text, "= ")
	r.fail(path, "%s: one figure, and not which limit it is; write %q for the largest, %q for the smallest, or both with .. between them", text, "<= "+text, ">= "+text)
}

// limits reads limits, of which there is at least one. None is below zero unless below
// says that what they are of may be.
func (r *reader) limits(path, text string, below bool) (units.LengthInterval, bool) {
	a, ok := read(r, path, text, r.between("..", parseLimits))
	switch {
	case !ok:
		return a, false
	case !a.HasLo() && !a.HasHi():
		r.fail(path, "%s: limits that allow everything; write one or both", text)
	case a.IsPoint():
		r.oneFigure(path, text)
	case !below && (a.HasLo() && a.Lo().Sign() < 0 || a.HasHi() && a.Hi().Sign() < 0):
		r.fail(path, "%s: a limit below zero; write limits of zero or more", text)
	case a.HasLo() && largest.Less(a.Lo()), a.HasHi() && largest.Less(a.Hi()):
		r.fail(path, "%s: a limit beyond %s; look at its unit", text, largest)
	default:
		return a, true
	}
	return a, false
}
