package sheet

import (
	"archive/zip"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
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
		most := b.OtherParts
		switch {
		case isSheet(f.Name):
			most = b.SheetPart
		case strings.EqualFold(f.Name, "xl/sharedStrings.xml"):
			most = b.StringsPart
		default:
			others += size
			size = others
		}
		if size < 0 || size > most {
			return &BoundError{What: fmt.Sprintf("%d bytes, unpacked", size), Where: name + ", part " + f.Name, Most: fmt.Sprintf("%d MB are read of its kind", most>>20)}
		}
		if size > 1<<20 && size/b.Expansion > packed {
			return &BoundError{What: fmt.Sprintf("%d bytes packed into %d", size, packed), Where: name + ", part " + f.Name, Most: fmt.Sprintf("%d to 1 is read", b.Expansion)}
		}
	}
	return nil
}

func isSheet(part string) bool {
	return strings.HasPrefix(strings.ToLower(part), "xl/worksheets/sheet")
}

// contents returns the sheets that hold cells, in order, and the part of the texts
// that they share, nil if there is none.
func contents(files []*zip.File) (sheets []worksheet, texts *zip.File, err error) {
	byName := make(map[string]*zip.File, len(files))
	for _, f := range files {
		byName[strings.ToLower(strings.ReplaceAll(f.Name, `\`, "/"))] = f
	}
	var book struct {
		Sheets []struct {
			Name string     `xml:"name,attr"`
			Any  []xml.Attr `xml:",any,attr"`
		} `xml:"sheets>sheet"`
	}
	var relations struct {
		Each []struct {
			ID     string `xml:"Id,attr"`
			Type   string `xml:"Type,attr"`
			Target string `xml:"Target,attr"`
		} `xml:"Relationship"`
	}
	if err := errors.Join(decode(byName["xl/workbook.xml"], &book), decode(byName["xl/_rels/workbook.xml.rels"], &relations)); err != nil {
		return nil, nil, err
	}
	cells := map[string]*zip.File{} // by relation
	for _, r := range relations.Each {
		target := strings.ToLower(r.Target)
		if !strings.HasPrefix(target, "/") {
			target = "/xl/" + target
		}
		part := byName[strings.TrimPrefix(path.Clean(target), "/")]
		switch path.Base(r.Type) { // what stands before it differs from one edition of the standard to another
		case "worksheet":
			cells[r.ID] = part
		case "sharedStrings":
			texts = part
		}
	}
	for _, s := range book.Sheets {
		for _, attribute := range s.Any {
			if part := cells[attribute.Value]; attribute.Name.Local == "id" && part != nil {
				sheets = append(sheets, worksheet{name: s.Name, part: part})
			}
		}
	}
	return sheets, texts, nil
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
