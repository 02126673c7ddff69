package sheet

import (
	"archive/zip"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"slices"
	"strconv"
	"strings"
)

// checkArchive bounds what a workbook's archive says that it unpacks to, before
// anything is unpacked. An archive that says less than it holds is found out by
// the checksum of the part.
func checkArchive(name string, files []*zip.File, b Bounds) error {
	if len(files) > b.Parts {
		return &BoundError{What: fmt.Sprintf("%d parts", len(files)), Where: name, Most: fmt.Sprintf("%d are read", b.Parts)}
	}
	var others int64
	for _, f := range files {
		size, packed := int64(f.UncompressedSize64), int64(f.CompressedSize64)
		most, counted := b.OtherParts, size
		switch {
		case isSheet(f.Name):
			most = b.SheetPart
		case strings.EqualFold(f.Name, "xl/sharedStrings.xml"):
			most = b.StringsPart
		default:
			others += size
			counted = others
		}
		if size < 0 || counted < 0 || counted > most {
			return &BoundError{What: fmt.Sprintf("%d bytes, unpacked", counted), Where: name + ", part " + f.Name, Most: fmt.Sprintf("%d MB are read of its kind", most>>20)}
		}
		if size > 1<<20 && size/b.Expansion > packed {
			return &BoundError{What: fmt.Sprintf("%d bytes packed into %d", size, packed), Where: name + ", part " + f.Name, Most: fmt.Sprintf("%d to 1 is read", b.Expansion)}
		}
	}
	return nil
}

func isSheet(part string) bool {
	return strings.HasPrefix(strings.ToLower(part), "xl/worksheets/sheet") || part == "content.xml"
}

// parts are the parts of a workbook that are read.
type parts struct {
	book, texts, styles *zip.File            // texts and styles are nil if there are none
	sheets              []worksheet          // that hold cells, in order
	all                 []string             // the names of all sheets, in order
	own                 []string             // of the sheets that sheetcheck put into a copy
	byName              map[string]*zip.File // every part, by its name in small letters
}

// relations say which parts belong to a part: ISO/IEC 29500-2, 9.3.
type relations struct {
	Each []relation `xml:"Relationship"`
}

type relation struct {
	ID     string `xml:"Id,attr"`
	Type   string `xml:"Type,attr"`
	Target string `xml:"Target,attr"`
}

// from returns the name of the part that is meant, in small letters, as seen from a folder.
func (r relation) from(folder string) string {
	target := strings.ToLower(r.Target)
	if !strings.HasPrefix(target, "/") {
		target = "/" + folder + target
	}
	return strings.TrimPrefix(path.Clean(target), "/")
}

// OwnName is the hidden name of a sheet that sheetcheck itself put into a copy of a workbook. It
// stays when an office program saves the copy. Such a sheet claims nothing and is passed over.
const OwnName = "_sheetcheck.answer"

// ownSheets finds the names that mark sheets as sheetcheck's own, and keeps no others.
type ownSheets []int

// UnmarshalXML takes one defined name.
func (s *ownSheets) UnmarshalXML(d *xml.Decoder, start xml.StartElement) error {
	if attribute(&start, "name") == OwnName {
		if i, err := strconv.Atoi(attribute(&start, "localSheetId")); err == nil {
			*s = append(*s, i)
		}
	}
	return d.Skip()
}

// contents finds the parts of a workbook.
func contents(files []*zip.File) (found parts, err error) {
	byName := make(map[string]*zip.File, len(files))
	found.byName = byName
	for _, f := range files {
		byName[strings.ToLower(strings.ReplaceAll(f.Name, `\`, "/"))] = f
	}
	var book struct {
		Sheets []struct {
			Name  string     `xml:"name,attr"`
			State string     `xml:"state,attr"`
			Any   []xml.Attr `xml:",any,attr"`
		} `xml:"sheets>sheet"`
		Own ownSheets `xml:"definedNames>definedName"`
	}
	at := "xl/workbook.xml" // where most have it
	var top relations
	if f := byName["_rels/.rels"]; f != nil && decode(f, &top) == nil {
		for _, r := range top.Each {
			if path.Base(r.Type) == "officeDocument" {
				at = r.from("")
			}
		}
	}
	folder, name := path.Split(at)
	found.book = byName[at]
	var parts relations
	if err := errors.Join(decode(found.book, &book), decode(byName[folder+"_rels/"+name+".rels"], &parts)); err != nil {
		return found, err
	}
	cells := map[string]*zip.File{} // by relation
	for _, r := range parts.Each {
		part := byName[r.from(folder)]
		switch path.Base(r.Type) { // what stands before it differs from one edition of the standard to another
		case "worksheet":
			cells[r.ID] = part
		case "sharedStrings":
			found.texts = part
		case "styles":
			found.styles = part
		}
	}
	for i, s := range book.Sheets {
		found.all = append(found.all, s.Name)
		if slices.Contains(book.Own, i) {
			found.own = append(found.own, s.Name)
			continue
		}
		for _, attribute := range s.Any {
			if part := cells[attribute.Value]; attribute.Name.Local == "id" && part != nil {
				found.sheets = append(found.sheets, worksheet{name: s.Name, part: part, hidden: s.State == "hidden" || s.State == "veryHidden"})
			}
		}
	}
	return found, nil
}

// decode reads a part whole.
func decode(f *zip.File, v any) error {
	if f == nil {
		return errors.New("the workbook lacks a part that every workbook has")
	}
	r, err := f.Open()
	if err != nil {
		return err
	}
	defer r.Close()
	return newDecoder(io.LimitReader(r, int64(f.UncompressedSize64))).Decode(v)
}
