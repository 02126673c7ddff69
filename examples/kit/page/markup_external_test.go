package page_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"golang.org/x/net/html"
	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/page"
)

// hostile draws texts with what ends an element, an attribute, a script or a style, and bytes that are no text.
func hostile(t *rapid.T, name string) string {
	pieces := []string{"<script>alert(1)</script>", "</title>", "</style>", "</textarea>", "<!--", "-->", "]]>", "<![CDATA[", `"`, "'", "`", "&", "&lt;", "&#60;", "&lt", "<", ">", "=",
		" onload=alert(1) ", "\x00", "\xff", "\xc3\x28", "\xed\xa0\x80", "\r", "\r\n", "\n", "\t", "\u2028", "ä", "journal", "0.024", "/", "javascript:", "<svg/onload=x>", "</svg>", "<img src=x>", "+ADw-"}
	var b strings.Builder
	for _, p := range rapid.SliceOfN(rapid.OneOf(rapid.SampledFrom(pieces), rapid.String()), 0, 6).Draw(t, name) {
		b.WriteString(p)
	}
	return b.String()
}

// read is a text as a reader must get it back.
func read(text string) string {
	var b strings.Builder
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		if r == 0 {
			r = utf8.RuneError
		}
		b.WriteRune(r)
		i += size
	}
	return b.String()
}

// parse reads a page as a browser does.
func parse(t interface{ Fatal(...any) }, src string) *html.Node {
	n, err := html.Parse(strings.NewReader(src))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// find returns the elements of a name.
func find(n *html.Node, name string) (list []*html.Node) {
	for x := range n.Descendants() {
		if x.Type == html.ElementNode && x.Data == name {
			list = append(list, x)
		}
	}
	return list
}

func textOf(n *html.Node) string {
	var b strings.Builder
	for x := range n.Descendants() {
		if x.Type == html.TextNode {
			b.WriteString(x.Data)
		}
	}
	return b.String()
}

func attribute(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// TestHostileTexts: in an element, in one of the elements whose texts are read by other rules, in SVG and in an
// attribute a text is read back as it was, and the page has the elements and attributes that were asked for and no others.
func TestHostileTexts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, value := hostile(t, "text"), hostile(t, "value")
		for _, name := range []string{"p", "textarea", "pre", "text", "title"} {
			var m page.Markup
			switch name {
			case "p":
				m = page.El("p", page.Attr("data-x", value), page.Text(text))
			case "textarea":
				m = page.El("textarea", page.Attr("data-x", value), page.Text(text))
			case "pre":
				m = page.El("pre", page.Attr("data-x", value), page.Text(text))
			case "text":
				m = page.El("svg", page.El("text", page.Attr("data-x", value), page.Text(text)))
			case "title":
				m = page.El("svg", page.El("title", page.Attr("data-x", value), page.Text(text)))
			}
			root := parse(t, "<!DOCTYPE html><html><head></head><body>"+m.String()+"</body></html>")
			n := find(root, name)
			if len(n) != 1 || textOf(n[0]) != read(text) || attribute(n[0], "data-x") != read(value) || len(n[0].Attr) != 1 {
				t.Fatalf("%s: %q and %q are read otherwise: %s", name, text, value, m)
			}
			elements := 0
			for x := range root.Descendants() {
				if x.Type == html.ElementNode {
					elements++
				} else if x.Type == html.CommentNode {
					t.Fatalf("a comment: %s", m)
				}
			}
			want := 4
			if name == "text" || name == "title" {
				want = 5
			}
			if elements != want {
				t.Fatalf("%s: %d elements, want %d: %s", name, elements, want, m)
			}
		}
	})
}

// TestHostileDocument: neither a title nor a style nor a block's name makes an element.
func TestHostileDocument(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		title, style, id := hostile(t, "title"), hostile(t, "style"), hostile(t, "id")
		var b strings.Builder
		d := page.Document{Title: title, Style: style, Body: page.El("main"), Blocks: []page.Block{{ID: id, Data: []byte(style)}}}
		if err := d.Write(&b); err != nil {
			t.Fatal(err)
		}
		root := parse(t, b.String())
		got := map[string]int{}
		for x := range root.Descendants() {
			if x.Type == html.ElementNode {
				got[x.Data]++
			}
		}
		if got["script"] != 1 || got["style"] != 1 || got["title"] != 1 || got["meta"] != 4 || got["main"] != 1 || len(got) != 8 {
			t.Fatalf("%v: %s", got, b.String()[len(page.Style):])
		}
		if s := textOf(find(root, "title")[0]); s != read(title) {
			t.Fatalf("title %q, want %q", s, title)
		}
		if s := find(root, "script")[0]; attribute(s, "id") != read(id) || attribute(s, "type") != "application/octet-stream" {
			t.Fatalf("a block %v", s.Attr)
		}
	})
}

// TestAddresses: an address that runs something is none, however it is written; others stay.
func TestAddresses(t *testing.T) {
	for _, test := range []struct{ name, value, want string }{
		{"href", "#next", "#next"}, {"href", "lesson-2.html?seed=1:2", "lesson-2.html?seed=1:2"}, {"href", "https://www.iso.org/", "https://www.iso.org/"}, {"href", "mailto:a@b", "mailto:a@b"},
		{"href", "javascript:alert(1)", "about:invalid"}, {"href", " \x01JaVa\tScript\n:alert(1)", "about:invalid"}, {"href", "vbscript:x", "about:invalid"},
		{"href", "data:text/html;base64,PHNjcmlwdD4=", "about:invalid"}, {"href", "data:image/png;base64,AAAA", "about:invalid"}, {"href", "blob:x", "about:invalid"}, {"href", "file:///x", "about:invalid"},
		{"src", "data:image/svg+xml;base64,AAAA", "data:image/svg+xml;base64,AAAA"}, {"src", "data:text/html;base64,AAAA", "about:invalid"}, {"src", "data:image/svg+xml,<svg onload=x>", "about:invalid"},
	} {
		a := page.Attr("href", test.value)
		if test.name == "src" {
			a = page.Attr("src", test.value)
		}
		n := find(parse(t, page.El("a", a).String()), "a")[0]
		if got := attribute(n, test.name); got != test.want {
			t.Errorf("%s %q: %q, want %q", test.name, test.value, got, test.want)
		}
	}
}

// TestMisuse: what would run something panics, and says what to write instead.
func TestMisuse(t *testing.T) {
	for want, f := range map[string]func(){
		"does not write <script>": func() { page.El("script") },
		"does not write <iframe>": func() { page.El("iframe") },
		"does not write <P>":      func() { page.El("P") },
		"does not write <a b>":    func() { page.El("a b") },
		"onclick is not":          func() { page.Attr("onclick", "x") },
		"OnClick is not":          func() { page.Attr("OnClick", "x") },
		"style is not":            func() { page.Attr("style", "x") },
		"a=b is not":              func() { page.Attr("a=b", "x") },
		"<br> has no content":     func() { page.El("br", page.Text("x")) },
		"Join has no element":     func() { page.Join(page.Class("x")) },
		"needs Hash":              func() { page.Document{Scripts: make([]page.Script, 1)}.Policy() },
	} {
		func() {
			defer func() {
				if said, _ := recover().(string); !strings.Contains(said, want) {
					t.Errorf("said %q, want %q", said, want)
				}
			}()
			f()
		}()
	}
}
