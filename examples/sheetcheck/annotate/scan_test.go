package annotate

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
)

// FuzzParse sets the scanner beside encoding/xml: of a text that both read, they find the same
// elements at the same places; and a part without edits is written as it is.
func FuzzParse(f *testing.F) {
	for _, seed := range []string{
		`<a/>`, `<?xml version="1.0"?><a b="1"><c d='>'/>x<e:f xmlns:e="u">&amp;</e:f></a>`, `<a><!-- <b> --><![CDATA[<c>]]></a>`, `<a b = "<" ><c /></a >`,
		`<a`, `<a></b>`, `<a/><b/>`, `<!DOCTYPE a><a/>`, "\xff\xfe<\x00a\x00", `<a><!--></a>`, `<a><?x ?></a>`, `</>`, `<a b="1" b="2"/>`, `text`,
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := parse(data)
		if err != nil {
			return
		}
		if out, err := d.bytes(); err != nil || !bytes.Equal(out, data) {
			t.Fatalf("%q is written as %q (%v)", data, out, err)
		}
		type found struct {
			name     string
			from, to int64
		}
		var want, got []found
		x := xml.NewDecoder(bytes.NewReader(data))
		for {
			before := x.InputOffset()
			token, err := x.RawToken()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				return // not well-formed, or in another encoding
			}
			switch e := token.(type) {
			case xml.StartElement:
				if strings.Contains(e.Name.Local, ":") || strings.HasPrefix(string(data[before:]), "<:") {
					return
				}
				name := e.Name.Local
				if e.Name.Space != "" {
					name = e.Name.Space + ":" + name
				}
				want = append(want, found{name, before, x.InputOffset()})
			case xml.Directive:
				t.Fatalf("%q has a document type and is parsed", data)
			}
		}
		for i := range d.all {
			e := &d.all[i]
			got = append(got, found{e.prefix + e.name, e.from, e.to})
			if e.close < e.to || e.end < e.close || !e.closes && !bytes.HasPrefix(data[e.close:], []byte("</")) {
				t.Errorf("%q: %s ends at %d, %d", data, e.name, e.close, e.end)
			}
		}
		if !slices.Equal(want, got) {
			t.Errorf("%q: elements %v, want %v", data, got, want)
		}
	})
}

// TestAttributes: values are found where they stand, and set there.
func TestAttributes(t *testing.T) {
	for _, test := range []struct{ tag, name, value, want string }{
		{`<c r="B2" s="1">`, "s", "7", `<c r="B2" s="7">`},
		{`<c r='B2'  s = '1' />`, "s", "7", `<c r='B2'  s = '7' />`},
		{`<x:c r="B2"/>`, "s", "7", `<x:c s="7" r="B2"/>`},
		{`<c/>`, "s", "7", `<c s="7"/>`},
		{"<c\n\ta:s=\"1\"\n\ts=\"2\">", "s", "7", "<c\n\ta:s=\"1\"\n\ts=\"7\">"},
		{`<c t="s='1'">`, "s", "7", `<c s="7" t="s='1'">`},
		{`<c r="&lt;" s="">`, "s", "7", `<c r="&lt;" s="7">`},
	} {
		closed := test.tag
		if !strings.HasSuffix(closed, "/>") {
			name := strings.TrimLeft(strings.FieldsFunc(closed, func(r rune) bool { return r == ' ' || r == '\n' || r == '>' })[0], "<")
			closed += "</" + name + ">"
		}
		d, err := parse([]byte(closed))
		if err != nil {
			t.Fatal(err)
		}
		if got := d.root().with(d.root().raw, [2]string{test.name, test.value}); got != test.want {
			t.Errorf("%s: %s, want %s", test.tag, got, test.want)
		}
	}
}

// TestShown: a text stays a text, whatever it is like.
func TestShown(t *testing.T) {
	for text, want := range map[string]string{
		"=A1":                       "=A1",
		`a<b>&"c"`:                  `a&lt;b&gt;&amp;&quot;c&quot;`,
		"_x0041_ and _x41_":         "_x005F_x0041_ and _x41_",
		"Lagerspiel für µm\n":       "Lagerspiel f&#252;r &#181;m&#10;",
		"\x00\x1b":                  "&#65533;&#65533;",
		strings.Repeat("a", 40_000): strings.Repeat("a", 32_766) + "&#8230;",
	} {
		if got := shown(text); got != want {
			t.Errorf("%.40q is written %.60q, want %.60q", text, got, want)
		}
	}
}

// TestLight: which letters cannot be read on a light ground.
func TestLight(t *testing.T) {
	for colour, want := range map[string]bool{
		`rgb="FFFFFFFF"`: true, `rgb="FF000000"`: false, `rgb="FFC00000"`: false, `rgb="FFFFFF00"`: true, `rgb="FFFFFF"`: true,
		`theme="0"`: true, `theme="1"`: false, `indexed="9"`: true, `indexed="8"`: false, `auto="1"`: false, `rgb="no colour"`: false,
	} {
		d, err := parse([]byte("<color " + colour + "/>"))
		if err != nil {
			t.Fatal(err)
		}
		if got := light(&d.root().tag); got != want {
			t.Errorf("%s is light: %t", colour, got)
		}
	}
}
