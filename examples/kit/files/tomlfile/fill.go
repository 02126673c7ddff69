package tomlfile

import (
	"cmp"
	"encoding"
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"strconv"
	"strings"
)

// ErrKind is the error of a value of another kind than its key has: a list where a text
// belongs.
var ErrKind = errors.New("of another kind")

// filler fills a struct from a tree, and gathers what does not fit.
type filler struct {
	places *Places
	errs   Errors
	unit   string
	types  map[reflect.Type]keys // those of the structs met so far
}

// keys are the keys of a struct.
type keys struct {
	fields map[string][]int
	known  []string // in their order
}

// keysOf returns the keys of a struct.
func (f *filler) keysOf(t reflect.Type) keys {
	k, ok := f.types[t]
	if !ok {
		k.fields, k.known = fieldsOf(t)
		f.types[t] = k
	}
	return k
}

// fail notes that a value is of another kind than its key has.
func (f *filler) fail(path string, n *node, format string, args ...any) {
	f.places.unread[path] = true
	f.errs = append(f.errs, &Error{File: f.places.file, Line: n.line, Path: path, What: fmt.Sprintf(format, args...), Err: ErrKind})
}

var unmarshaler = reflect.TypeFor[encoding.TextUnmarshaler]()

// fill puts a node into a value of whatever kind; key is its last name. What is of
// another kind is an error, and is put in as what it was evidently meant as.
func (f *filler) fill(path, key string, n *node, v reflect.Value) {
	if _, ok := f.places.lines[path]; !ok {
		f.places.lines[path] = n.line
	}
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		v = v.Elem()
	}
	if v.CanAddr() && v.Addr().Type().Implements(unmarshaler) {
		into := v.Addr().Interface().(encoding.TextUnmarshaler)
		if n.kind == aWhole || n.kind == aDecimal { // it says what it lacks
			if err := into.UnmarshalText([]byte(n.text)); err != nil {
				f.errs = append(f.errs, f.places.Wrap(path, err))
				return
			}
		}
		if text, ok := f.text(path, key, n); ok {
			if err := into.UnmarshalText([]byte(text)); err != nil {
				f.errs = append(f.errs, f.places.Wrap(path, err))
			}
		}
		return
	}
	switch v.Kind() {
	case reflect.Interface:
		v.Set(reflect.ValueOf(f.anything(path, n)))
	case reflect.String:
		text, _ := f.text(path, key, n)
		v.SetString(text)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		f.whole(path, key, n, v)
	case reflect.Float64:
		f.decimal(path, key, n, v)
	case reflect.Bool:
		f.truth(path, key, n, v)
	case reflect.Slice:
		f.fillList(path, key, n, v)
	case reflect.Map:
		f.fillMap(path, key, n, v)
	case reflect.Struct:
		f.fillStruct(path, key, n, v)
	default:
		panic("tomlfile: cannot fill a " + v.Type().String())
	}
}

// dated is a date or a time as TOML has them without quotes.
var dated = regexp.MustCompile(`^\d{4}-\d\d-\d\d`)

// text returns the text of a node; ok is false if nothing is known of what was meant.
func (f *filler) text(path, key string, n *node) (text string, ok bool) {
	switch n.kind {
	case aText:
		return n.text, true
	case aWhole, aDecimal:
		quantity := ""
		if n.kind == aDecimal {
			quantity = fmt.Sprintf(", as in %q", n.text+" "+f.unit)
		}
		f.fail(path, n, "%s, a bare number, where a text belongs; write %q, or with its unit if it is a quantity%s", n.text, n.text, quantity)
		return n.text, true
	case aList:
		if text, ok := f.between(n.list); ok && key == limits {
			f.fail(path, n, "a list, where one text belongs; write both in it and their unit, as in %s%q", assigned(key), text)
			return text, true
		}
		if text, ok := f.inOne(n.list); ok {
			f.fail(path, n, "a list, where one text belongs; write %s%q", assigned(key), text)
			return text, true
		}
		fallthrough
	default:
		if date := n.said(); dated.MatchString(date) {
			f.fail(path, n, "%s, without quotes, where a text belongs; write %s%q", date, assigned(key), date)
			return date, true
		}
		f.fail(path, n, "%s, where a text belongs; write %s\"...\"", n.said(), assigned(key))
		return "", false
	}
}

// limits is the key whose text is two numbers, the lower and the upper one.
const limits = "limits"

// between makes limits of two numbers in a list, in the file's unit if they have none.
func (f *filler) between(list []*node) (string, bool) {
	if len(list) != 2 {
		return "", false
	}
	unit := ""
	var numbers [2]string
	for i, e := range list {
		if e.kind != aText && e.kind != aWhole && e.kind != aDecimal {
			return "", false
		}
		number, u, _ := strings.Cut(e.text, " ")
		if !bareNumber.MatchString(number) || u != "" && unit != "" && u != unit {
			return "", false
		}
		numbers[i], unit = number, cmp.Or(u, unit)
	}
	return numbers[0] + ".." + numbers[1] + " " + cmp.Or(unit, f.unit), true
}

// inOne makes one text of those in a list, with their unit at its end if they have one.
func (f *filler) inOne(list []*node) (string, bool) {
	unit := ""
	var parts []string
	for i, e := range list {
		if e.kind != aText {
			return "", false
		}
		text := e.text
		if number, u, ok := strings.Cut(text, " "); ok && (i == 0 || u == unit) && bareNumber.MatchString(number) {
			text, unit = number, u
		} else if i > 0 && unit != "" {
			return "", false
		}
		parts = append(parts, text)
	}
	if unit == "" && strings.Contains(parts[0], ".") && bareNumber.MatchString(parts[0]) {
		unit = f.unit // a size more likely than a code
	}
	return strings.TrimSpace(strings.Join(parts, " ") + " " + unit), len(parts) > 0
}

var bareNumber = regexp.MustCompile(`^[0-9.]+$`)

// assigned is a key with what stands between it and its value; of an element of a list,
// which has no key, nothing.
func assigned(key string) string {
	if key == "" {
		return ""
	}
	return bareOrQuoted(key) + " = "
}

// said says what a node is.
func (n *node) said() string {
	switch n.kind {
	case aText:
		return fmt.Sprintf("%q", shortened(n.text))
	case aList:
		if n.tables {
			return "a list of tables"
		}
		return "a list"
	case aTable:
		return "a table"
	}
	return shortened(n.text)
}

func shortened(text string) string {
	const most = 60
	if r := []rune(text); len(r) > most {
		return string(r[:most]) + "…"
	}
	return text
}

// whole fills a whole number.
func (f *filler) whole(path, key string, n *node, v reflect.Value) {
	number, err := strconv.ParseInt(strings.ReplaceAll(n.text, "_", ""), 0, 64)
	fits := err == nil && !v.OverflowInt(number)
	switch {
	case n.kind == aWhole && fits:
		v.SetInt(number)
	case n.kind == aWhole:
		f.fail(path, n, "%s is too large; write a smaller number", shortened(n.text))
	case n.kind == aText && fits:
		v.SetInt(number)
		f.fail(path, n, "%s, a text where a whole number belongs; write %s%d", n.said(), assigned(key), number)
	default:
		f.fail(path, n, "%s, where a whole number belongs; write one without quotes, as in %s3", n.said(), assigned(key))
	}
}

// decimal fills a number.
func (f *filler) decimal(path, key string, n *node, v reflect.Value) {
	number, err := strconv.ParseFloat(strings.ReplaceAll(n.text, "_", ""), 64)
	fits := err == nil && number == number && number-number == 0
	switch {
	case (n.kind == aWhole || n.kind == aDecimal) && fits:
		v.SetFloat(number)
	case n.kind == aText && fits:
		v.SetFloat(number)
		f.fail(path, n, "%s, a text where a number belongs; write %s%s", n.said(), assigned(key), n.text)
	default:
		f.fail(path, n, "%s, where a number belongs; write one without quotes, as in %s2", n.said(), assigned(key))
	}
}

// truth fills true or false.
func (f *filler) truth(path, key string, n *node, v reflect.Value) {
	yes := n.text == "true" || n.text == "yes"
	switch {
	case n.kind == aTruth:
		v.SetBool(yes)
	case n.kind == aText && (yes || n.text == "false" || n.text == "no"):
		v.SetBool(yes)
		f.fail(path, n, "%s, where true or false belongs; write %s%t", n.said(), assigned(key), yes)
	default:
		f.fail(path, n, "%s, where true or false belongs; write %strue, or false", n.said(), assigned(key))
	}
}

// fillList fills a list. One value alone is taken for a list of it.
func (f *filler) fillList(path, key string, n *node, v reflect.Value) {
	elements := n.list
	ofTables := v.Type().Elem().Kind() == reflect.Struct
	switch {
	case n.kind == aList:
	case n.kind == aTable && ofTables:
		f.fail(path, n, "one table, where a list of tables belongs; write [[%s]], in double brackets", bareOrQuoted(key))
		elements = []*node{n}
	case ofTables:
		f.fail(path, n, "%s, where a list of tables belongs; write [[%s]], and under it %s", n.said(), bareOrQuoted(key), firstKeys(v.Type().Elem()))
		return
	case n.kind == aTable:
		f.fail(path, n, "a table, where a list belongs; write %s[...]", assigned(key))
		return
	default:
		meant := asList(n, v.Type(), key == "")
		f.fail(path, n, "%s, where a list belongs; write %s%s", n.said(), assigned(key), meant.written())
		elements = meant.list
	}
	v.Set(reflect.MakeSlice(v.Type(), len(elements), len(elements)))
	for i, e := range elements {
		f.fill(fmt.Sprintf("%s[%d]", path, i), "", e, v.Index(i))
	}
}

// asList is a value alone as the list that it was evidently meant as: its parts between
// commas, of a list of lists "1-4 2-5" those between blanks and dashes too.
func asList(n *node, t reflect.Type, inner bool) *node {
	outer := t.Elem().Kind() == reflect.Slice
	parts := strings.FieldsFunc(n.text, func(c rune) bool { return c == ',' || outer && c == ' ' || inner && (c == '-' || c == ' ') })
	list := &node{kind: aList, line: n.line}
	for _, text := range parts {
		if text = strings.TrimSpace(text); text == "" {
			continue
		}
		e := &node{kind: n.kind, text: text, line: n.line}
		if outer {
			e = asList(e, t.Elem(), true)
		}
		list.list = append(list.list, e)
	}
	if last := len(list.list) - 1; last > 0 && !outer { // "0.05, 0.10 mm"
		if _, unit, ok := strings.Cut(list.list[last].text, " "); ok {
			for _, e := range list.list[:last] {
				if bareNumber.MatchString(e.text) {
					e.text += " " + unit
				}
			}
		}
	}
	return list
}

// written is a list as it is written.
func (n *node) written() string {
	if n.kind != aList {
		return n.said()
	}
	var parts []string
	for _, e := range n.list {
		parts = append(parts, e.written())
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

// fillMap fills a table whose names the user makes up. A value that cannot be read is
// there all the same, as nothing.
func (f *filler) fillMap(path, key string, n *node, v reflect.Value) {
	n, ok := f.table(path, key, n, v.Type())
	if !ok {
		return
	}
	if v.IsNil() {
		v.Set(reflect.MakeMap(v.Type()))
	}
	for _, name := range n.keys {
		element := reflect.New(v.Type().Elem()).Elem()
		f.fill(join(path, name), name, n.members[name], element)
		v.SetMapIndex(reflect.ValueOf(name).Convert(v.Type().Key()), element)
	}
}

// fillStruct fills a table whose keys the program knows. An unknown one that is near one
// that is not there is taken for it.
func (f *filler) fillStruct(path, key string, n *node, v reflect.Value) {
	n, ok := f.table(path, key, n, v.Type())
	if !ok {
		return
	}
	of := f.keysOf(v.Type())
	fields, known := of.fields, of.known
	exchanged := f.exchanged(path, n, v.Type(), fields)
	taken := map[string]bool{}
	for _, name := range n.keys {
		meant := name
		if _, ok := fields[name]; !ok {
			meant = Nearest(name, known)
			f.errs = append(f.errs, &Error{File: f.places.file, Line: n.members[name].line, What: unknownKey(name, path, meant, known), Err: ErrUnknownKey})
			if meant == "" || n.members[meant] != nil || taken[meant] {
				f.places.unread[join(path, name)] = true
				continue
			}
		}
		taken[meant] = true
		if exchanged[meant] {
			f.places.unread[join(path, meant)] = true
			continue
		}
		f.fill(join(path, meant), meant, n.members[name], v.FieldByIndex(fields[meant]))
	}
}

// exchanged notes an error for two keys that have each other's value, a table where a text
// belongs and a text where a table does, and returns them. Which two may be taken for each
// other says the tag of the text's field: beside:"readings".
func (f *filler) exchanged(path string, n *node, t reflect.Type, fields map[string][]int) map[string]bool {
	for _, name := range n.keys {
		at, known := fields[name]
		if !known {
			continue
		}
		other := t.FieldByIndex(at).Tag.Get("beside")
		text := n.members[other]
		if other == "" || text == nil || n.members[name].kind != aTable || text.kind != aText {
			continue
		}
		f.fail(join(path, name), n.members[name], "the key %s stands where %s belongs, and %s where %s does; write %s = %s, and the table as %s = { … }",
			name, other, other, name, name, text.said(), other)
		return map[string]bool{name: true, other: true}
	}
	return nil
}

// table returns the table that a node is.
func (f *filler) table(path, key string, n *node, t reflect.Type) (*node, bool) {
	switch {
	case n.kind == aTable:
		return n, true
	case n.tables && len(n.list) == 1:
		f.fail(path, n, "a list of tables, where one belongs; write [%s], in single brackets", dottedPath(path))
		return n.list[0], true
	case n.tables:
		f.fail(path, n, "%d tables, where one belongs; keep one, as [%s], in single brackets", len(n.list), dottedPath(path))
		return n.list[0], true
	case t.Kind() == reflect.Map && t.Elem().Kind() == reflect.String:
		example := n
		if len(n.list) > 0 {
			example = n.list[0]
		}
		f.fail(path, n, "%s, where names with a text each belong; write %s{ NAME = %q }", n.said(), assigned(key), cmp.Or(shortened(example.text), "..."))
	case t.Kind() == reflect.Map:
		f.fail(path, n, "%s, where a table belongs; write [%s.NAME] and its keys under it", n.said(), dottedPath(path))
	default:
		f.fail(path, n, "%s, where a table belongs; write %s{ … }, with %s", n.said(), assigned(key), firstKeys(t))
	}
	return nil, false
}

// dottedPath is a path as it stands in a heading.
func dottedPath(path string) string {
	parts := dotted(path)
	for i := range parts {
		parts[i] = bareOrQuoted(parts[i])
	}
	return strings.Join(parts, ".")
}

// anything makes what a node is, for a value that may be of several kinds.
func (f *filler) anything(path string, n *node) any {
	if _, ok := f.places.lines[path]; !ok {
		f.places.lines[path] = n.line
	}
	switch n.kind {
	case aWhole:
		if number, err := strconv.ParseInt(strings.ReplaceAll(n.text, "_", ""), 0, 64); err == nil {
			return number
		}
	case aTruth:
		return n.text == "true"
	case aList:
		list := []any{}
		for i, e := range n.list {
			list = append(list, f.anything(fmt.Sprintf("%s[%d]", path, i), e))
		}
		return list
	case aTable:
		table := map[string]any{}
		for _, name := range n.keys {
			table[name] = f.anything(join(path, name), n.members[name])
		}
		return table
	case aDecimal:
		return Number(n.text)
	}
	return n.text
}

// A Number is one that is not whole, as it is written, where a value may be of several
// kinds.
type Number string

// Said says what a value of any kind is, in words.
func Said(v any) string {
	switch v := v.(type) {
	case string:
		return fmt.Sprintf("%q", shortened(v))
	case []any:
		return "a list"
	case map[string]any:
		return "a table"
	}
	return fmt.Sprint(v)
}

// fieldsOf are the fields of a struct by their keys, and the keys in their order.
func fieldsOf(t reflect.Type) (fields map[string][]int, known []string) {
	fields = map[string][]int{}
	for _, f := range reflect.VisibleFields(t) {
		name, _, _ := strings.Cut(f.Tag.Get("toml"), ",")
		if f.Anonymous || name == "" || name == "-" {
			continue
		}
		fields[name] = f.Index
		known = append(known, name)
	}
	return fields, known
}

// firstKeys lists the first keys of a table.
func firstKeys(t reflect.Type) string {
	const most = 4
	_, known := fieldsOf(t)
	if len(known) > most {
		return strings.Join(known[:most], ", ") + " and so on"
	}
	return strings.Join(known, ", ")
}
