package sheet

import (
	"archive/zip"
	"encoding/xml"
	"fmt"
	"strconv"
)

// mostStyles bounds the styles that are read: a workbook of an office program has at most
// 65,490 (its own limit).
const mostStyles = 1 << 16

// readStyles reads what is kept of a workbook's styles, by their numbers; f is nil if it
// has none.
func readStyles(f *zip.File) ([]style, error) {
	if f == nil {
		return nil, nil
	}
	p, closer, err := openPart(f)
	if err != nil {
		return nil, err
	}
	defer closer.Close()
	codes := map[string]Format{} // by number
	var styles []style
	inCells := false // among the formats of cells
	for {
		token, err := p.next()
		if err != nil {
			return nil, fmt.Errorf("styles: %w", err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			switch e.Name.Local {
			case "numFmt":
				if len(codes) == mostStyles {
					return nil, &BoundError{What: fmt.Sprintf("more than %d number formats", mostStyles), Where: "styles", Most: "that many are read"}
				}
				codes[attribute(&e, "numFmtId")] = parseFormat(attribute(&e, "formatCode"))
			case "cellXfs":
				inCells = true
			case "xf":
				if !inCells {
					continue
				}
				if len(styles) == mostStyles {
					return nil, &BoundError{What: fmt.Sprintf("more than %d styles", mostStyles), Where: "styles", Most: "that many are read"}
				}
				id := attribute(&e, "numFmtId")
				format, ok := codes[id]
				if !ok {
					number, _ := strconv.Atoi(id)
					format = builtIn(number)
				}
				styles = append(styles, style{format: format})
			case "protection":
				if inCells && len(styles) > 0 {
					locked := attribute(&e, "locked")
					styles[len(styles)-1].free = locked != "" && !isTrue(locked)
				}
			}
		case xml.EndElement:
			switch e.Name.Local {
			case "cellXfs":
				inCells = false
			case "styleSheet":
				return styles, nil
			}
		}
	}
}

// isTrue reads a truth value of an attribute.
func isTrue(text string) bool { return text == "1" || text == "true" || text == "on" }
