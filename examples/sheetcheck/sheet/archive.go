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

// sheetParts returns the archive's part for each sheet by its name.
func sheetParts(files []*zip.File) (map[string]*zip.File, error) {
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
			Target string `xml:"Target,attr"`
		} `xml:"Relationship"`
	}
	if err := errors.Join(decode(byName["xl/workbook.xml"], &book), decode(byName["xl/_rels/workbook.xml.rels"], &relations)); err != nil {
		return nil, err
	}
	parts := map[string]*zip.File{}
	for _, s := range book.Sheets {
		for _, attribute := range s.Any {
			for _, r := range relations.Each {
				if attribute.Name.Local != "id" || r.ID != attribute.Value {
					continue
				}
				target := strings.ToLower(r.Target)
				if !strings.HasPrefix(target, "/") {
					target = "/xl/" + target
				}
				parts[s.Name] = byName[strings.TrimPrefix(path.Clean(target), "/")]
			}
		}
	}
	return parts, nil
}

func decode(f *zip.File, v any) error {
	if f == nil {
		return errors.New("the workbook lacks a part that every workbook has")
	}
	r, err := f.Open()
	if err != nil {
		return err
	}
	defer r.Close()
	return xml.NewDecoder(io.LimitReader(r, int64(f.UncompressedSize64))).Decode(v)
}
