package drawing_test

import (
	"encoding/xml"
	"strconv"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/drawing"
)

// TestWhere: every picture fits a page in plain characters, and as a drawing stays within
// its frame with no two texts on each other.
func TestWhere(t *testing.T) {
	for _, name := range []string{drawing.Bore, drawing.Journal, drawing.Cylinder, drawing.Piston, drawing.Ring, drawing.Strip, drawing.EndPlay, drawing.SidePlay, drawing.Wall} {
		f, ok := drawing.Where(name)
		if !ok || f.Name != name || f.Says == "" {
			t.Fatalf("%s: %+v", name, f)
		}
		for _, line := range strings.Split(f.Text, "\n") {
			if n := len([]rune(line)); n > 72 || strings.TrimRight(line, " ") != line {
				t.Errorf("%s: %d letters: %q", name, n, line)
			}
		}
		var svg struct {
			Texts []struct {
				X    string `xml:"x,attr"`
				Y    string `xml:"y,attr"`
				Text string `xml:",chardata"`
			} `xml:"text"`
		}
		if err := xml.Unmarshal([]byte(f.SVG.String()), &svg); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		type box struct{ left, right, top, bottom float64 }
		var boxes []box
		for _, text := range svg.Texts {
			x, err1 := strconv.ParseFloat(text.X, 64)
			y, err2 := strconv.ParseFloat(text.Y, 64)
			if err1 != nil || err2 != nil {
				t.Fatalf("%s: %v, %v", name, err1, err2)
			}
			half := 3.7 * float64(len(text.Text)) // of letters 13 high
			b := box{x - half, x + half, y - 11, y + 3}
			if b.left < 0 || b.right > 420 || b.top < 0 || b.bottom > 150 {
				t.Errorf("%s: %q leaves the frame: %+v", name, text.Text, b)
			}
			for i, other := range boxes {
				if b.left < other.right && other.left < b.right && b.top < other.bottom && other.top < b.bottom {
					t.Errorf("%s: %q stands on %q", name, text.Text, svg.Texts[i].Text)
				}
			}
			boxes = append(boxes, b)
		}
	}
	if _, ok := drawing.Where("nothing"); ok {
		t.Error("a picture of nothing")
	}
}
