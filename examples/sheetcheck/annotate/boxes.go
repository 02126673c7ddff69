package annotate

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"example.com/closefit/examples/sheetcheck/sheet"
)

// Boxes of comments are drawn in an older language, and a comment without one is not shown:
// ISO/IEC 29500-4, 19. Office programs write parts in it that are not well-formed XML, so
// they are searched for words and not for tags.

const (
	vmlType   = "application/vnd.openxmlformats-officedocument.vmlDrawing"
	shapeKind = "_x0000_t202"
)

// languages are the prefixes that shapes are written with.
func languages() [][2]string {
	return [][2]string{{"v", "urn:schemas-microsoft-com:vml"}, {"o", "urn:schemas-microsoft-com:office:office"}, {"x", "urn:schemas-microsoft-com:office:excel"}}
}

var (
	idMap    = regexp.MustCompile(`idmap\b[^>]*?\bdata="([0-9, ]*)"`)
	shapeIDs = regexp.MustCompile(`_x0000_s([0-9]{1,9})\b`)
	boxCells = regexp.MustCompile(`Row>\s*([0-9]{1,8})\s*</(?:[A-Za-z0-9]+:)?Row>\s*<(?:[A-Za-z0-9]+:)?Column>\s*([0-9]{1,8})\s*<`)
)

// boxed returns the cells whose comments have boxes in a drawing.
func boxed(data []byte) map[sheet.Place]bool {
	cells := map[sheet.Place]bool{}
	for _, m := range boxCells.FindAllSubmatch(data, -1) {
		row, err := strconv.Atoi(string(m[1]))
		column, err2 := strconv.Atoi(string(m[2]))
		if err == nil && err2 == nil {
			cells[sheet.Place{Row: row + 1, Column: column + 1}] = true
		}
	}
	return cells
}

// perBlock is how many shapes have numbers of one block.
const perBlock = 1024

// blocks finds the last block of numbers that any drawing of the workbook uses.
func (a *archive) blocks() (last int, err error) {
	for _, f := range a.files.File {
		if !strings.HasSuffix(strings.ToLower(f.Name), ".vml") {
			continue
		}
		data, err := read(f)
		if err != nil {
			return 0, fmt.Errorf("part %s: %w", f.Name, err)
		}
		for _, m := range idMap.FindAllSubmatch(data, -1) {
			for _, text := range strings.Split(string(m[1]), ",") {
				if n, err := strconv.Atoi(strings.TrimSpace(text)); err == nil && n < 1<<16 {
					last = max(last, n)
				}
			}
		}
		for _, m := range shapeIDs.FindAllSubmatch(data, -1) {
			if n, err := strconv.Atoi(string(m[1])); err == nil && n < perBlock<<16 {
				last = max(last, n/perBlock)
			}
		}
	}
	return last, nil
}

// shapes writes the boxes of comments, with numbers of the blocks after last.
func shapes(at []sheet.Place, texts map[sheet.Place]string, last int, declared string) (text string, used int) {
	var b strings.Builder
	for i, p := range at {
		number := (last+1)*perBlock + 1 + i
		fmt.Fprintf(&b, `<v:shape%s id="_x0000_s%d" type="#%s" style="position:absolute;margin-left:60pt;margin-top:4pt;width:240pt;height:120pt;z-index:%d;visibility:hidden" fillcolor="#ffffe1" o:insetmode="auto"><v:fill color2="#ffffe1"/><v:shadow on="t" color="black" obscured="t"/><v:path o:connecttype="none"/><v:textbox style="mso-direction-alt:auto"><div style="text-align:left"></div></v:textbox><x:ClientData ObjectType="Note"><x:MoveWithCells/><x:SizeWithCells/><x:Anchor>%s</x:Anchor><x:AutoFill>False</x:AutoFill><x:Row>%d</x:Row><x:Column>%d</x:Column></x:ClientData></v:shape>`,
			declared, number, shapeKind, i+1, place(p, texts[p]), p.Row-1, p.Column-1)
	}
	return b.String(), (len(at) + perBlock) / perBlock
}

// shapeType writes what all boxes have in common.
func shapeType(declared string) string {
	return `<v:shapetype` + declared + ` id="` + shapeKind + `" coordsize="21600,21600" o:spt="202" path="m,l,21600r21600,l21600,xe"><v:stroke joinstyle="miter"/><v:path gradientshapeok="t" o:connecttype="rect"/></v:shapetype>`
}

// numbered lists the blocks from one on.
func numbered(first, count int) string {
	var all []string
	for i := range count {
		all = append(all, strconv.Itoa(first+i))
	}
	return strings.Join(all, ",")
}

// newBoxes writes a drawing with boxes alone.
func newBoxes(at []sheet.Place, texts map[sheet.Place]string, last int) (data string, used int) {
	declared := ""
	for _, l := range languages() {
		declared += fmt.Sprintf(` xmlns:%s="%s"`, l[0], l[1])
	}
	text, used := shapes(at, texts, last, "")
	return `<xml` + declared + `><o:shapelayout v:ext="edit"><o:idmap v:ext="edit" data="` + numbered(last+1, used) + `"/></o:shapelayout>` + shapeType("") + text + `</xml>`, used
}

// moreBoxes puts boxes behind those of a drawing.
func moreBoxes(data []byte, at []sheet.Place, texts map[sheet.Place]string, last int) (edits []edit, used int, err error) {
	if err := readable(data); err != nil {
		return nil, 0, err
	}
	end := bytes.LastIndex(data, []byte("</xml>"))
	rootEnd := bytes.IndexByte(data[max(bytes.Index(data, []byte("<xml")), 0):], '>') + max(bytes.Index(data, []byte("<xml")), 0)
	if end < 0 || rootEnd < 0 || rootEnd > end {
		return nil, 0, damaged("a drawing without an end")
	}
	declared := ""
	for _, l := range languages() {
		if !bytes.Contains(data[:rootEnd], fmt.Appendf(nil, `xmlns:%s="%s"`, l[0], l[1])) {
			declared += fmt.Sprintf(` xmlns:%s="%s"`, l[0], l[1])
		}
	}
	text, used := shapes(at, texts, last, declared)
	if !bytes.Contains(data, []byte(`id="`+shapeKind+`"`)) {
		text = shapeType(declared) + text
	}
	edits = []edit{{int64(end), int64(end), text}}
	if m := idMap.FindSubmatchIndex(data); m != nil {
		edits = append(edits, edit{int64(m[3]), int64(m[3]), "," + numbered(last+1, used)})
	}
	return edits, used, nil
}
