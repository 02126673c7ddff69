package annotate

import (
	"archive/zip"
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// An edit puts a text in the place of some bytes of a part, or between two.
type edit struct {
	from, to int64
	text     string
}

// splice copies what it reads with the edits made. Edits at one place come one after the other.
func splice(out io.Writer, in io.Reader, edits []edit) error {
	slices.SortStableFunc(edits, func(a, b edit) int { return cmp.Compare(a.from, b.from) })
	at := int64(0)
	for _, e := range edits {
		if e.from < at {
			return fmt.Errorf("two changes of one place, byte %d", e.from)
		}
		if _, err := io.CopyN(out, in, e.from-at); err != nil {
			return err
		}
		if _, err := io.WriteString(out, e.text); err != nil {
			return err
		}
		if _, err := io.CopyN(io.Discard, in, e.to-e.from); err != nil {
			return err
		}
		at = e.to
	}
	_, err := io.Copy(out, in)
	return err
}

// set returns the edit that gives an attribute of a tag a value.
func (t *tag) set(name, value string) edit {
	if old, from, ok := t.value(name); ok {
		at := t.from + int64(from)
		return edit{at, at + int64(len(old)), value}
	}
	at := t.from + int64(1+len(t.prefix)+len(t.name))
	return edit{at, at, " " + name + `="` + value + `"`}
}

// with returns a text that begins with a tag, with attributes of the tag set.
func (t *tag) with(text []byte, attributes ...[2]string) string {
	var edits []edit
	for _, a := range attributes {
		e := t.set(a[0], a[1])
		edits = append(edits, edit{e.from - t.from, e.to - t.from, e.text})
	}
	var b strings.Builder
	if err := splice(&b, bytes.NewReader(text), edits); err != nil {
		panic("annotate: an attribute twice: " + err.Error()) // programmer's mistake
	}
	return b.String()
}

// An element of a part that is held whole.
type element struct {
	tag           // that opens it
	close   int64 // where the tag that closes it begins; behind the opening one of an empty element
	end     int64 // behind it
	within  int   // index of the element around it; below 0 for the root
	appends string
}

// A document is a part that is held whole, and the edits to make.
type document struct {
	data  []byte
	all   []element // in the order in which they open; the root first
	edits []edit
}

// parse finds the elements of a part.
func parse(data []byte) (*document, error) {
	if err := readable(data); err != nil {
		return nil, err
	}
	d := &document{data: data}
	s := newScanner(bytes.NewReader(data))
	var open []int
	for {
		t, err := s.next()
		if err == io.EOF {
			return d, nil
		}
		if err != nil {
			return nil, err
		}
		t.raw = data[t.from:t.to]
		if t.opens {
			within := -1
			if len(open) > 0 {
				within = open[len(open)-1]
			}
			if len(d.all) == mostElements {
				return nil, &sheet.BoundError{What: fmt.Sprintf("more than %d elements", mostElements), Most: "that many are held at once"}
			}
			d.all = append(d.all, element{tag: t, close: t.to, end: t.to, within: within})
			if !t.closes {
				open = append(open, len(d.all)-1)
			}
			continue
		}
		e := &d.all[open[len(open)-1]]
		e.close, e.end = t.from, t.to
		open = open[:len(open)-1]
	}
}

var (
	errEncoding = errors.New("it is in an encoding that the copy cannot be written in; open the workbook in an office program, save it and copy that")
	encoding    = regexp.MustCompile(`^(?:\xef\xbb\xbf)?<\?xml[^>]*encoding\s*=\s*["']([^"']*)["']`)
)

// readable reports by an error whether a part is in an encoding in which tags cannot be found
// or texts not be compared. Parts are in UTF-8 or UTF-16 (ISO/IEC 29500-2, 8.1.4).
func readable(data []byte) error {
	if bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) || bytes.IndexByte(data[:min(len(data), 4)], 0) >= 0 {
		return errEncoding
	}
	m := encoding.FindSubmatch(data[:min(len(data), 200)])
	if m != nil && !strings.EqualFold(string(m[1]), "utf-8") && !strings.EqualFold(string(m[1]), "us-ascii") {
		return errEncoding
	}
	return nil
}

// root returns the root element.
func (d *document) root() *element { return &d.all[0] }

// child returns the index of the first element of a name within another; below 0 if there is none.
func (d *document) child(within int, name string) int {
	for i := within + 1; i < len(d.all) && d.all[i].from < d.all[within].end; i++ {
		if d.all[i].within == within && d.all[i].name == name {
			return i
		}
	}
	return -1
}

// children returns the indices of the elements within another, of a name if it is not empty.
func (d *document) children(within int, name string) (all []int) {
	for i := within + 1; i < len(d.all) && d.all[i].from < d.all[within].end; i++ {
		if d.all[i].within == within && (name == "" || d.all[i].name == name) {
			all = append(all, i)
		}
	}
	return all
}

// source returns an element as it is written.
func (d *document) source(i int) []byte { return d.data[d.all[i].from:d.all[i].end] }

// text returns what stands in an element that has no others.
func (d *document) text(i int) []byte { return d.data[d.all[i].to:d.all[i].close] }

func (d *document) insert(at int64, text string) { d.edits = append(d.edits, edit{at, at, text}) }

// append puts a text at the end of what stands in an element.
func (d *document) append(i int, text string) { d.all[i].appends += text }

// bytes returns the part with the edits made.
func (d *document) bytes() ([]byte, error) {
	for i := range d.all {
		e := &d.all[i]
		switch {
		case e.appends == "":
		case e.closes:
			d.edits = append(d.edits, edit{e.to - 2, e.to, ">" + e.appends + "</" + e.prefix + e.name + ">"})
		default:
			d.insert(e.close, e.appends)
		}
		e.appends = ""
	}
	var b bytes.Buffer
	err := splice(&b, bytes.NewReader(d.data), d.edits)
	return b.Bytes(), err
}

// read reads a part whole, no more of it than it says that it unpacks to.
func read(f *zip.File) ([]byte, error) {
	r, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer r.Close()
	return io.ReadAll(io.LimitReader(r, int64(f.UncompressedSize64)))
}
