package units

import (
	"strings"
	"unicode"
)

// A Working shows the steps that lead to a result, so that a person can check it by hand:
// the formula in the trade's symbols, the formula with the numbers in it, the result, the
// source. Steps are the workings behind its numbers. An empty part is not shown.
type Working struct {
	Name    string    `json:"name"`    // what is worked out: "main 3, clearance"
	Formula string    `json:"formula"` // "C = D - t1 - t2 - d"
	Numbers string    `json:"numbers"` // "60.012 - 2.001 - 2.003 - 55.970"
	Result  string    `json:"result"`  // "0.038 mm"
	Source  string    `json:"source"`  // the standard, or the rule
	Notes   []string  `json:"notes"`   // what a reader must know
	Steps   []Working `json:"steps"`   // the workings behind the numbers
}

// UnmarshalJSON reads the exchange form: every key is written, an empty part too.
func (w *Working) UnmarshalJSON(data []byte) error { return DecodeObject(data, w) }

// Text returns the working as lines of plain text, steps indented.
func (w Working) Text() string {
	var b strings.Builder
	b.Grow(w.length(0))
	w.write(&b, plain{}, 0)
	return b.String()
}

// length returns about how many bytes the working has as text, and as many more for each of its
// lines.
func (w Working) length(more int) int {
	const label, lines = 16, 5 // with what it is set in
	n := len(w.Name) + len(w.Formula) + len(w.Numbers) + len(w.Result) + len(w.Source) + lines*(label+more)
	for _, note := range w.Notes {
		n += len(note) + label + more
	}
	for i := range w.Steps {
		n += w.Steps[i].length(more)
	}
	return n
}

// String returns Text.
func (w Working) String() string { return w.Text() }

// Markdown returns the working as a nested list. Characters with a meaning in Markdown
// are escaped.
func (w Working) Markdown() string {
	var b strings.Builder
	w.write(&b, markdown{}, 0)
	return b.String()
}

// HTML returns the working as a section element, every text escaped.
func (w Working) HTML() string {
	var b strings.Builder
	b.Grow(w.length(len(`<p class="formula"></p>`)))
	w.writeHTML(&b)
	return b.String()
}

// A notation writes the lines of a working.
type notation interface {
	heading(b *strings.Builder, depth int, text string)
	line(b *strings.Builder, depth int, label, text string)
}

func (w Working) write(b *strings.Builder, n notation, depth int) {
	if w.Name != "" {
		n.heading(b, depth, w.Name)
		depth++
	}
	for _, s := range w.Steps {
		s.write(b, n, depth)
	}
	for _, l := range w.lines() {
		n.line(b, depth, l.label, l.text)
	}
}

// line is a labelled part of a working.
type line struct{ label, text string }

func (w Working) lines() []line {
	lines := make([]line, 0, 4+len(w.Notes))
	add := func(label, text string) {
		if text != "" {
			lines = append(lines, line{label, text})
		}
	}
	add("", w.Formula)
	add("", w.Numbers)
	add("=", w.Result)
	add("source:", w.Source)
	for _, n := range w.Notes {
		add("note:", n)
	}
	return lines
}

type plain struct{}

func (plain) heading(b *strings.Builder, depth int, text string) {
	indented(b, depth, "", text)
}

func (plain) line(b *strings.Builder, depth int, label, text string) {
	indented(b, depth, label, text)
}

// indented writes a line of plain text.
func indented(b *strings.Builder, depth int, label, text string) {
	for range depth {
		b.WriteString("  ")
	}
	if label != "" {
		b.WriteString(label)
		b.WriteByte(' ')
	}
	b.WriteString(oneLine(text))
	b.WriteByte('\n')
}

// oneLine keeps a text with line breaks from running out of its indentation.
func oneLine(text string) string {
	before := ' '
	for _, c := range text {
		if c != ' ' && unicode.IsSpace(c) || c == ' ' && before == ' ' {
			return strings.Join(strings.Fields(text), " ")
		}
		before = c
	}
	return strings.TrimSuffix(text, " ") // most are one line
}

type markdown struct{}

func (markdown) heading(b *strings.Builder, depth int, text string) {
	b.WriteString(strings.Repeat("  ", depth) + "- **" + escapeMarkdown(text) + "**\n")
}

func (markdown) line(b *strings.Builder, depth int, label, text string) {
	if label != "" {
		label += " "
	}
	b.WriteString(strings.Repeat("  ", depth) + "- " + label + escapeMarkdown(text) + "\n")
}

// escapeMarkdown escapes the characters that Markdown gives a meaning to, also
// those that begin a list.
func escapeMarkdown(text string) string {
	text = markdownEscapes.Replace(oneLine(text))
	if strings.HasPrefix(text, "-") || strings.HasPrefix(text, "+") || strings.HasPrefix(text, "=") {
		return `\` + text
	}
	digits := strings.TrimLeft(text, "0123456789")
	if len(digits) < len(text) && (strings.HasPrefix(digits, ". ") || strings.HasPrefix(digits, ") ")) {
		return text[:len(text)-len(digits)] + `\` + digits
	}
	return text
}

var markdownEscapes = strings.NewReplacer(
	`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "[", `\[`, "]", `\]`, "<", "&lt;", ">", "&gt;", "&", "&amp;",
	"#", `\#`, "|", `\|`, "~", `\~`)

func (w Working) writeHTML(b *strings.Builder) {
	b.WriteString(`<section class="working">`)
	if w.Name != "" {
		element(b, "<h4>", "", w.Name, "</h4>")
	}
	for _, s := range w.Steps {
		s.writeHTML(b)
	}
	for _, part := range []struct{ begin, label, text string }{
		{`<p class="formula">`, "", w.Formula},
		{`<p class="numbers">`, "", w.Numbers},
		{`<p class="result">`, "= ", w.Result},
		{`<p class="source">`, "source: ", w.Source},
	} {
		if part.text != "" {
			element(b, part.begin, part.label, part.text, "</p>")
		}
	}
	for _, n := range w.Notes {
		element(b, `<p class="note">`, "note: ", n, "</p>")
	}
	b.WriteString("</section>\n")
}

// element writes a text between its tags, behind a label.
func element(b *strings.Builder, begin, label, text, end string) {
	b.WriteString(begin)
	b.WriteString(label)
	escaped.WriteString(b, text)
	b.WriteString(end)
}

// escaped makes text of HTML, as html.EscapeString does. Package html holds the names of two thousand
// characters besides, which a module in a browser would carry.
var escaped = strings.NewReplacer("&", "&amp;", "'", "&#39;", "<", "&lt;", ">", "&gt;", `"`, "&#34;")
