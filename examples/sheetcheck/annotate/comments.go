package annotate

import (
	"archive/zip"
	"crypto/sha256"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// author is whose comments they are.
const author = "sheetcheck"

// A commenting puts comments on the cells of one sheet.
type commenting struct {
	*archive
	book *book
	part string // of the sheet
	rels *relations
}

// comment puts a comment for each mark that has a text. It returns the cells of these, and those
// that have comments in all.
func (c *commenting) comment(marks []*Mark) (said, all []sheet.Place, err error) {
	for _, m := range marks {
		if m.Text != "" {
			said = append(said, m.At)
		}
	}
	if len(said) == 0 {
		return nil, nil, nil
	}
	r, there := c.rels.of("comments")
	if !there || c.byName[strings.ToLower(r.target)] == nil {
		var b strings.Builder
		for _, m := range marks {
			if m.Text != "" {
				b.WriteString(comment("", m, 0))
			}
		}
		name := r.target
		if !there {
			name = c.archive.part(c.book, "comments")
			c.rels.add(c.book.office+"/comments", name)
		}
		c.add(name, sheetTypes+"comments+xml", head+`<comments xmlns="`+c.book.main+`"><authors><author>`+author+`</author></authors><commentList>`+b.String()+`</commentList></comments>`)
		return said, said, nil
	}
	d, err := c.document(r.target)
	if err != nil {
		return nil, nil, err
	}
	list, authors := d.child(0, "commentList"), d.child(0, "authors")
	if list < 0 || authors < 0 {
		return nil, nil, damaged("part %s: comments without a list or without authors", r.target)
	}
	old := map[sheet.Place]int{}
	for _, i := range d.children(list, "comment") {
		p, err := sheet.ParsePlace(d.all[i].read("ref"))
		if err != nil {
			return nil, nil, damaged("part %s: a comment at %q", r.target, d.all[i].read("ref"))
		}
		all = append(all, p)
		if _, twice := old[p]; !twice {
			old[p] = i
		}
	}
	prefix, by, written := d.root().prefix, len(d.children(authors, "author")), false
	for _, m := range marks {
		if m.Text == "" {
			continue
		}
		if i, there := old[m.At]; there {
			goOn(d, i, m.Text)
			continue
		}
		d.append(list, comment(prefix, m, by))
		all, written = append(all, m.At), true
	}
	if written {
		d.append(authors, "<"+prefix+"author>"+author+"</"+prefix+"author>")
	}
	return said, all, c.reply(marks)
}

// comment writes a comment.
func comment(prefix string, m *Mark, by int) string {
	p := prefix
	return fmt.Sprintf(`<%scomment ref="%s" authorId="%d"><%stext>%s</%stext></%scomment>`, p, m.At, by, p, run(p, m.Text), p, p)
}

// run writes a run of text.
func run(prefix, text string) string {
	return fmt.Sprintf(`<%sr><%st xml:space="preserve">%s</%st></%sr>`, prefix, prefix, shown(text), prefix, prefix)
}

// leastAdded is how many characters of a text are put behind another one, at least.
const leastAdded = 40

// goOn puts a text behind that of a comment that is there, as far as there is room. A comment that is full stays as it
// is: the first sheet says what was found.
func goOn(d *document, comment int, text string) {
	prefix := d.all[comment].prefix
	i := d.child(comment, "text")
	if i < 0 {
		d.append(comment, "<"+prefix+"text>"+run(prefix, text)+"</"+prefix+"text>")
		return
	}
	if t := d.child(i, "t"); t >= 0 { // a text alone becomes a run, so that another can follow
		d.insert(d.all[t].from, "<"+prefix+"r>")
		d.insert(d.all[t].end, "</"+prefix+"r>")
	}
	room := longest - length(string(d.data[d.all[i].from:d.all[i].end])) // no less than the text's own characters
	if room < leastAdded {
		return
	}
	ours := run(prefix, cut("\n"+author+":\n"+text, room))
	for _, j := range d.children(i, "") { // how a text is pronounced stands behind it
		if name := d.all[j].name; name == "rPh" || name == "phoneticPr" {
			d.insert(d.all[j].from, ours)
			return
		}
	}
	d.append(i, ours)
}

const threadSpace = "http://schemas.microsoft.com/office/spreadsheetml/2018/threadedcomments"

// reply answers the threads of marked cells. Office programs that know threads show these in
// place of the comment that stands for them.
func (c *commenting) reply(marks []*Mark) error {
	r, ok := c.rels.of("threadedComment")
	if !ok || c.byName[strings.ToLower(r.target)] == nil {
		return nil
	}
	d, err := c.document(r.target)
	if err != nil {
		return err
	}
	type thread struct {
		first string // its id
		last  int    // element
	}
	threads := map[string]thread{}
	for _, i := range d.children(0, "threadedComment") {
		e := &d.all[i]
		t, ok := threads[e.read("ref")]
		if !ok {
			t.first = e.read("id")
			if parent := e.read("parentId"); parent != "" {
				t.first = parent
			}
		}
		t.last = i
		threads[e.read("ref")] = t
	}
	for _, m := range marks {
		t, ok := threads[m.At.String()]
		if !ok || m.Text == "" {
			continue
		}
		person, err := c.person()
		if err != nil {
			return err
		}
		p := d.all[t.last].prefix
		when := ""
		if !c.now.IsZero() {
			when = c.now.UTC().Format(` dT="2006-01-02T15:04:05.00"`)
		}
		d.insert(d.all[t.last].end, fmt.Sprintf(`<%sthreadedComment ref="%s"%s personId="%s" id="%s" parentId="%s"><%stext>%s</%stext></%sthreadedComment>`,
			p, m.At, when, person, guid(c.part, m.At.String(), m.Text), escaped(t.first), p, shown(m.Text), p, p))
	}
	return nil
}

// person returns the id of the one who replies.
func (c *commenting) person() (string, error) {
	id := guid("person", author)
	own := func(prefix string) string {
		return fmt.Sprintf(`<%sperson displayName="%s" id="%s" userId="%s" providerId="None"/>`, prefix, author, id, author)
	}
	r, ok := c.book.rels.of("person")
	if ok && c.byName[strings.ToLower(r.target)] != nil {
		d, err := c.document(r.target)
		if err != nil {
			return "", err
		}
		for _, i := range d.children(0, "person") {
			if d.all[i].read("id") == id {
				return id, nil
			}
		}
		if text := own(d.root().prefix); !strings.Contains(d.root().appends, text) {
			d.append(0, text)
		}
		return id, nil
	}
	if !ok {
		name := c.free("xl/persons/person", ".xml")
		c.book.rels.add("http://schemas.microsoft.com/office/2017/10/relationships/person", name)
		c.add(name, "application/vnd.ms-excel.person+xml", head+`<personList xmlns="`+threadSpace+`">`+own("")+`</personList>`)
	}
	return id, nil
}

// guid returns an id that is the same for the same words.
func guid(words ...string) string {
	sum := sha256.Sum256([]byte(strings.Join(words, "\x00")))
	return fmt.Sprintf("{%X-%X-%X-%X-%X}", sum[0:4], sum[4:6], sum[6:8], sum[8:10], sum[10:16])
}

// draw puts the comments, and a box for each. It returns how many blocks of numbers of shapes
// it used after the last.
func (c *commenting) draw(f *zip.File, m *marking, last int) (used int, err error) {
	said, all, err := c.comment(m.marks)
	if err != nil || len(said) == 0 {
		return 0, err
	}
	texts := map[sheet.Place]string{}
	for _, mark := range m.marks {
		texts[mark.At] = mark.Text
	}
	r, there := c.rels.by(m.drawing)
	if old := c.byName[strings.ToLower(r.target)]; there && old != nil {
		data, err := read(old)
		if err != nil {
			return 0, fmt.Errorf("part %s: %w", old.Name, err)
		}
		boxes := boxed(data)
		said = slices.DeleteFunc(said, func(p sheet.Place) bool { return boxes[p] })
		if len(said) == 0 {
			return 0, nil
		}
		edits, used, err := moreBoxes(data, said, texts, last)
		if err != nil {
			return 0, fmt.Errorf("part %s: %w", old.Name, err)
		}
		c.edits[old] = append(c.edits[old], edits...)
		return used, nil
	}
	drawing, used := newBoxes(all, texts, last)
	name := r.target
	if name == "" {
		name = c.free(c.book.folder()+"drawings/vmlDrawing", ".vml")
	}
	c.defaultType("vml", vmlType)
	c.add(name, "", drawing)
	if there {
		return used, nil // the sheet names the part that was not there
	}
	id := c.rels.add(c.book.office+"/vmlDrawing", name)
	prefix, declared := m.root.prefixOf(c.book.office)
	declares := ""
	if !declared || prefix == "" {
		prefix, declares = "r:", ` xmlns:r="`+c.book.office+`"`
	}
	if m.drawing != "" { // of a relation that is not there
		return used, damaged("part %s: the drawing %q is not among its relations", f.Name, m.drawing)
	}
	c.edits[f] = append(c.edits[f], edit{m.boxes, m.boxes, fmt.Sprintf(`<%slegacyDrawing%s %sid="%s"/>`, m.root.prefix, declares, prefix, id)})
	return used, nil
}

// box sizes the box of a comment for its text: how many columns and rows it spans.
func box(text string) (columns, rows int) {
	const perLine = 44
	for line := range strings.Lines(text) {
		rows += 1 + len([]rune(line))/perLine
	}
	return 4, min(max(rows+2, 4), 24)
}

// place returns where the box of a comment stands: beside its cell, within the sheet.
func place(p sheet.Place, text string) string {
	columns, rows := box(text)
	left, top := p.Column, max(p.Row-2, 0)
	if left+columns > 16_383 {
		left = p.Column - 2 - columns
	}
	top = min(top, 1_048_575-rows)
	return strings.Join([]string{strconv.Itoa(left), "12", strconv.Itoa(top), "4", strconv.Itoa(left + columns), "12", strconv.Itoa(top + rows), "4"}, ", ")
}
