package units

import (
	"strings"
	"testing"
)

func wantText(t *testing.T, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func clearanceWorking() Working {
	return Working{
		Name:    "main 3, clearance",
		Formula: "C = D - t1 - t2 - d",
		Numbers: "60.012 - 2.001 - 2.003 - 55.970",
		Result:  "0.038 mm",
		Source:  "definition",
		Notes:   []string{"read at 20 °C"},
		Steps:   []Working{{Name: "D", Formula: "bore gauge", Result: "60.012 mm"}},
	}
}

func TestWorking(t *testing.T) {
	w := clearanceWorking()
	wantText(t, w.Text(), `main 3, clearance
  D
    bore gauge
    = 60.012 mm
  C = D - t1 - t2 - d
  60.012 - 2.001 - 2.003 - 55.970
  = 0.038 mm
  source: definition
  note: read at 20 °C
`)
	wantText(t, w.Markdown(), `- **main 3, clearance**
  - **D**
    - bore gauge
    - = 60.012 mm
  - C = D - t1 - t2 - d
  - 60.012 - 2.001 - 2.003 - 55.970
  - = 0.038 mm
  - source: definition
  - note: read at 20 °C
`)
	wantText(t, w.HTML(), `<section class="working"><h4>main 3, clearance</h4><section class="working"><h4>D</h4><p class="formula">bore gauge</p><p class="result">= 60.012 mm</p></section>
<p class="formula">C = D - t1 - t2 - d</p><p class="numbers">60.012 - 2.001 - 2.003 - 55.970</p><p class="result">= 0.038 mm</p><p class="source">source: definition</p><p class="note">note: read at 20 °C</p></section>
`)
	wantText(t, Working{}.Text()+Working{}.Markdown(), "")
	wantText(t, Working{Result: "1 mm"}.Text(), "= 1 mm\n")
}

// What a user typed cannot become markup or leave its line.
func TestWorkingEscapes(t *testing.T) {
	hostile := "<script>alert('1')</script> *a* _b_ `c` [d](e) & |\n- # f"
	w := Working{Name: hostile, Formula: hostile, Numbers: hostile, Result: hostile, Source: hostile, Notes: []string{hostile}, Steps: []Working{{Name: hostile}}}
	if got := w.HTML(); strings.Contains(got, "<script") || strings.Count(got, "&lt;script&gt;") != 7 {
		t.Errorf("HTML: %s", got)
	}
	const line = "&lt;script&gt;alert('1')&lt;/script&gt; \\*a\\* \\_b\\_ \\`c\\` \\[d\\](e) &amp; \\| - \\# f"
	wantText(t, Working{Name: hostile, Notes: []string{hostile}}.Markdown(), "- **"+line+"**\n  - note: "+line+"\n")
	if got := strings.Count(w.Text(), "\n"); got != 7 {
		t.Errorf("Text has %d lines: %s", got, w.Text())
	}
	for _, text := range []string{"a\nb", "a\tb", "a\n\tb", "\na  b\n", "a\u00a0b"} { // a line stays one line
		wantText(t, Working{Formula: text}.Text(), "a b\n")
	}
	for text, want := range map[string]string{
		"- t1": `\- t1`, "+ t1": `\+ t1`, "-1.5": `\-1.5`, "1. first": `1\. first`, "12) a": `12\) a`,
		"1.5 mm": "1.5 mm", "C = D": "C = D", "= 2": `\= 2`, "60": "60",
	} {
		wantText(t, Working{Formula: text}.Markdown(), "- "+want+"\n")
	}
}
