package annotate

import (
	"fmt"
	"html"
	"path"
	"strconv"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// A book is the part of a workbook that lists its sheets.
type book struct {
	name   string
	doc    *document
	rels   *relations
	prefix string
	main   string // the namespace of its elements
	office string // the beginning of the types of relations
	sheets []listed
}

// A listed sheet.
type listed struct {
	name string
	kind string // "worksheet", "chartsheet"
	part string
}

// The two editions of the standard: ISO/IEC 29500-1 and -4.
const (
	mainSpace         = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	officeSpace       = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	strictMainSpace   = "http://purl.oclc.org/ooxml/spreadsheetml/main"
	strictOfficeSpace = "http://purl.oclc.org/ooxml/officeDocument/relationships"
)

const sheetTypes = "application/vnd.openxmlformats-officedocument.spreadsheetml."

func (a *archive) book() (*book, error) {
	b := &book{name: "xl/workbook.xml"}
	top, err := a.relationsOf("")
	if err != nil {
		return nil, err
	}
	if r, ok := top.of("officeDocument"); ok {
		b.name = r.target
	}
	if b.doc, err = a.document(b.name); err != nil {
		return nil, err
	}
	if b.rels, err = a.relationsOf(b.name); err != nil {
		return nil, err
	}
	root := b.doc.root()
	b.prefix, b.main, b.office = root.prefix, mainSpace, officeSpace
	if root.space() == strictMainSpace {
		b.main, b.office = strictMainSpace, strictOfficeSpace
	}
	list := b.doc.child(0, "sheets")
	if list < 0 {
		return nil, damaged("the workbook has no list of sheets")
	}
	for _, i := range b.doc.children(list, "sheet") {
		e := &b.doc.all[i]
		r, _ := b.rels.by(e.related())
		b.sheets = append(b.sheets, listed{name: e.read("name"), kind: r.kind, part: r.target})
	}
	return b, nil
}

// folder is where the workbook's own parts lie.
func (b *book) folder() string { return b.rels.folder }

// freeName returns a name that no sheet has.
func (b *book) freeName() string {
	for n := 1; ; n++ {
		name := "Check"
		if n > 1 {
			name += " " + strconv.Itoa(n)
		}
		taken := false
		for _, s := range b.sheets {
			taken = taken || strings.EqualFold(s.name, name)
		}
		if !taken {
			return name
		}
	}
}

// begin puts a sheet before all others, and moves by one what counts sheets.
func (b *book) begin(name, relation string) {
	d := b.doc
	list := &d.all[d.child(0, "sheets")]
	used := map[int]bool{}
	for _, i := range d.children(d.child(0, "sheets"), "sheet") {
		n, _ := strconv.Atoi(d.all[i].read("sheetId"))
		used[n] = true
	}
	id := 1
	for used[id] {
		id++
	}
	prefix, declared := d.root().prefixOf(b.office)
	declares := ""
	if !declared || prefix == "" {
		prefix, declares = "r:", ` xmlns:r="`+b.office+`"`
	}
	d.insert(list.to, fmt.Sprintf(`<%ssheet%s name="%s" sheetId="%d" %sid="%s"/>`, b.prefix, declares, escaped(name), id, prefix, relation))
	views := -1
	for i := range d.all {
		e := &d.all[i]
		switch {
		case e.name == "bookViews" && e.depth == 2:
			views = i
		case e.name == "workbookView" && e.depth == 3:
			d.edits = append(d.edits, e.set("activeTab", strconv.Itoa(index(e, "activeTab")+1)))
			if first := index(e, "firstSheet"); first > 0 {
				d.edits = append(d.edits, e.set("firstSheet", strconv.Itoa(first+1)))
			}
		case e.name == "definedName" && e.depth == 3:
			if _, _, local := e.value("localSheetId"); local {
				d.edits = append(d.edits, e.set("localSheetId", strconv.Itoa(index(e, "localSheetId")+1)))
			}
		}
	}
	if views < 0 { // the first sheet would be shown together with the one that was shown until now
		d.insert(list.from, fmt.Sprintf(`<%sbookViews><%sworkbookView activeTab="1"/></%sbookViews>`, b.prefix, b.prefix, b.prefix))
	}
	own := fmt.Sprintf(`<%sdefinedName name="%s" localSheetId="0" hidden="1">%s</%sdefinedName>`, b.prefix, sheet.OwnName, escaped(quoted(name)+"!$A$1"), b.prefix)
	after := list.end
	for _, i := range d.children(0, "") {
		switch e := &d.all[i]; e.name {
		case "definedNames":
			d.append(i, own)
			return
		case "functionGroups", "externalReferences":
			after = e.end
		}
	}
	d.insert(after, fmt.Sprintf(`<%sdefinedNames>%s</%sdefinedNames>`, b.prefix, own, b.prefix))
}

// index reads an attribute that counts sheets, from 0.
func index(e *element, name string) int {
	n, err := strconv.Atoi(strings.TrimSpace(e.read(name)))
	if err != nil || n < 0 {
		return 0
	}
	return n
}

// quoted writes a sheet's name as formulas and links do.
func quoted(name string) string { return "'" + strings.ReplaceAll(name, "'", "''") + "'" }

// title puts the first sheet among the titles in the properties of the file, if these begin
// with the titles of the sheets: ISO/IEC 29500-1, 22.2.
func (a *archive) title(b *book, name string) error {
	top, err := a.relationsOf("")
	if err != nil {
		return err
	}
	r, ok := top.of("extended-properties")
	if !ok || a.byName[strings.ToLower(r.target)] == nil || len(b.sheets) == 0 {
		return nil
	}
	d, err := a.document(r.target)
	if err != nil {
		return err
	}
	titles, pairs := vector(d, "TitlesOfParts"), vector(d, "HeadingPairs")
	if titles < 0 || pairs < 0 {
		return nil
	}
	texts := d.children(titles, "lpstr")
	variants := d.children(pairs, "variant")
	if len(texts) == 0 || html.UnescapeString(string(d.text(texts[0]))) != b.sheets[0].name || len(variants) < 2 {
		return nil
	}
	count := d.child(variants[1], "i4")
	if count < 0 {
		return nil
	}
	sheets, err := strconv.Atoi(strings.TrimSpace(string(d.text(count))))
	if err != nil {
		return nil // nothing that a count could be added to
	}
	size := &d.all[titles]
	n := index(size, "size")
	d.edits = append(d.edits, edit{d.all[count].to, d.all[count].close, strconv.Itoa(sheets + 1)}, size.set("size", strconv.Itoa(n+1)))
	prefix := d.all[texts[0]].prefix
	d.insert(d.all[texts[0]].from, fmt.Sprintf("<%slpstr>%s</%slpstr>", prefix, escaped(name), prefix))
	return nil
}

// vector returns the vector in a property.
func vector(d *document, property string) int {
	i := d.child(0, property)
	if i < 0 {
		return -1
	}
	return d.child(i, "vector")
}

// part returns the name of a new part of the workbook.
func (a *archive) part(b *book, before string) string {
	return a.free(path.Join(b.folder(), before), ".xml")
}
