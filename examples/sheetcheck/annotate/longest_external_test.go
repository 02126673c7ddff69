package annotate_test

import (
	"encoding/xml"
	"strings"
	"testing"
	"unicode/utf16"

	"example.com/closefit/examples/sheetcheck/annotate"
	"example.com/closefit/internal/thorough"
)

// most is how many characters of UTF-16 a cell has at most, as office programs state it.
const most = 32_767

// TestLongest: no comment and no cell of a copy has more than 32,767 characters, whatever is found and whatever stood
// there, and nothing of what stood there is lost. With TESTS=whole an office program opens the copy too.
func TestLongest(t *testing.T) {
	parts := small()
	commented(parts)
	full, half := strings.Repeat("a", most-7), strings.Repeat("b", 20_000)
	put(parts, "xl/comments1.xml", "as stamped", full, "on the block", half)
	wrench := "\U0001F527" // two characters of UTF-16
	name, _ := copied(t, pack(t, "longest.xlsx", parts), answer(
		mark{"Mains", "B2", "there is no room for this", annotate.Wrong},
		mark{"Mains", "A4", strings.Repeat("c", 40_000), annotate.Wrong},
		mark{"Mains", "B3", strings.Repeat("d", most), annotate.Latent},
		mark{"Mains", "C4", strings.Repeat("e", most+1), annotate.Latent},
		mark{awkward, "A1", strings.Repeat(wrench, 20_000), annotate.Follows},
		mark{awkward, "B9", strings.Repeat("_x0041_", 5_000), annotate.Follows}, // written longer than it is
	))
	wants := []struct{ on, at, begins, ends string }{
		{"Mains", "B2", full, full},
		{"Mains", "A4", half + "sheetcheck:cccc", "ccc…"},
		{"Mains", "B3", "ddd", strings.Repeat("d", most)},
		{"Mains", "C4", "eee", strings.Repeat("e", most-1) + "…"},
		{awkward, "A1", wrench, strings.Repeat(wrench, most/2) + "…"},
	}
	after, _, _ := unpacked(t, name)
	var texts []string // of comments and cells
	for part, text := range after {
		if strings.HasPrefix(part, "xl/comments") || strings.HasPrefix(part, "xl/worksheets/sheet") {
			texts = append(texts, wholeTexts(t, text)...)
		}
	}
	for _, text := range texts {
		if n := len(utf16.Encode([]rune(strings.ReplaceAll(text, "_x005F_", "_")))); n > most {
			t.Errorf("a text has %d characters: %.40q", n, text)
		}
	}
	for _, want := range wants {
		found := false
		for _, text := range texts {
			text = strings.ReplaceAll(text, "\n", "")
			found = found || strings.HasPrefix(text, want.begins) && strings.HasSuffix(text, want.ends)
		}
		if !found {
			t.Errorf("no text is the comment on %s of %s, which begins with %.30q", want.at, want.on, want.begins)
		}
	}
	if !thorough.Whole() {
		return
	}
	few, _ := copied(t, pack(t, "few.xlsx", parts), answer( // it is slow to lay out long texts
		mark{"Mains", "A4", strings.Repeat("c", 40_000), annotate.Wrong}))
	stored, ok := office(t, few)[few]
	if !ok {
		return
	}
	got := strings.ReplaceAll(document(t, stored).Cells["Mains"]["A4"].Comment, "\n", "") // it makes several paragraphs of one
	if n := len(utf16.Encode([]rune(got))); n > most || n < most-200 || !strings.HasPrefix(got, wants[1].begins) || !strings.HasSuffix(got, wants[1].ends) {
		t.Errorf("the office program has a comment on A4 of %d characters: %.30q", n, got)
	}
}

// wholeTexts returns the texts of the comments, or of the inline strings of the cells, of a part.
func wholeTexts(t *testing.T, part string) (all []string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(part))
	within := false
	for {
		token, err := d.Token()
		if token == nil {
			if err != nil && err.Error() != "EOF" {
				t.Fatal(err)
			}
			return all
		}
		switch e := token.(type) {
		case xml.StartElement:
			if e.Name.Local == "comment" || e.Name.Local == "is" {
				all = append(all, "")
			}
			within = e.Name.Local == "t"
		case xml.EndElement:
			within = false
		case xml.CharData:
			if within && len(all) > 0 {
				all[len(all)-1] += string(e)
			}
		}
	}
}
