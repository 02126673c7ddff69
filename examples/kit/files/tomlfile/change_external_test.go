package tomlfile_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/files/tomlfile"
)

func TestSetText(t *testing.T) {
	path := func(text string) []string { return strings.Split(text, "/") }
	for _, test := range []struct{ name, src, path, text, want string }{
		{"in braces", "[a]\nr = { 1 = \"x\", 2 = \"?\" } # so\n", "a/r/2", "y", "[a]\nr = { 1 = \"x\", 2 = \"y\" } # so\n"},
		{"odd spacing stays", "[a]\nr={1=\"x\"  ,\t2   =\"?\"}\n", "a/r/1", "y", "[a]\nr={1=\"y\"  ,\t2   =\"?\"}\n"},
		{"added in braces", "[a]\nr = { 1 = \"x\" } # so\n", "a/r/2", "y", "[a]\nr = { 1 = \"x\", 2 = \"y\" } # so\n"},
		{"added in empty braces", "[a]\nr = {}\n", "a/r/main gallery", "y", "[a]\nr = { \"main gallery\" = \"y\" }\n"},
		{"under its own heading", "[a.r]\n1 = \"x\"\n# end\n\n[b]\nc = \"1\"\n", "a/r/2", "y", "[a.r]\n1 = \"x\"\n2 = \"y\"\n# end\n\n[b]\nc = \"1\"\n"},
		{"under an indented heading", "  [a.r]\n  1 = \"x\" # one\n[b]\n", "a/r/2", "y", "  [a.r]\n  1 = \"x\" # one\n  2 = \"y\"\n[b]\n"},
		{"beside dotted keys", "[a]\nr.1 = \"x\"\n", "a/r/2", "y", "[a]\nr.1 = \"x\"\nr.2 = \"y\"\n"},
		{"beside dotted keys in braces", "a = { r.1 = \"x\" }\n", "a/r/2", "y", "a = { r.1 = \"x\", r.2 = \"y\" }\n"},
		{"a table in braces is added", "[a]\nlimits = \"1\"\n\n[b]\n", "a/r/2", "y", "[a]\nlimits = \"1\"\nr = { 2 = \"y\" }\n\n[b]\n"},
		{"a table is added under its likes", "[a.x]\nl = \"1\"\n\n# of b\n[b]\nc = \"1\"\n", "a/main bore/r/3", "y", "[a.x]\nl = \"1\"\n\n[a.\"main bore\"]\nr = { 3 = \"y\" }\n\n# of b\n[b]\nc = \"1\"\n"},
		{"a table is added at the end", "t = \"1\"\n", "a/x/r/3", "y", "t = \"1\"\n\n[a.x]\nr = { 3 = \"y\" }\n"},
		{"a table where its tables have headings", "[a.x.r]\n1 = \"x\"\n", "a/x/l", "y", "[a.x.r]\n1 = \"x\"\n\n[a.x]\nl = \"y\"\n"},
		{"in a table of tables in braces", "[a]\nx = { k = \"1\" }\n", "a/z/k", "y", "[a]\nx = { k = \"1\" }\nz = { k = \"y\" }\n"},
		{"ends of lines as in the file", "[a.r]\r\n1 = \"x\"\r\n", "a/r/2", "y", "[a.r]\r\n1 = \"x\"\r\n2 = \"y\"\r\n"},
		{"no end of the last line", "[a.r]\n1 = \"x\"", "a/r/2", "y", "[a.r]\n1 = \"x\"\n2 = \"y\"\n"},
		{"a mark at the beginning", "\ufeff[a]\nr = \"x\"\n", "a/r", "y", "\ufeff[a]\nr = \"y\"\n"},
		{"the last of several tables", "[[a]]\nr = \"x\"\n[[a]]\nr = \"x\"\n", "a/1/r", "y", "[[a]]\nr = \"x\"\n[[a]]\nr = \"y\"\n"},
		{"a text over lines", "[a]\nr = '''x\n'''\nl = \"1\"\n", "a/r", "y", "[a]\nr = \"y\"\nl = \"1\"\n"},
		{"brackets and marks in texts", "[a]\nl = \"]}#\\\"\" # }\nr = { 1 = ']' }\n", "a/r/1", "y", "[a]\nl = \"]}#\\\"\" # }\nr = { 1 = \"y\" }\n"},
		{"quotes are escaped", "[a]\nr = \"x\"\n", "a/r", `"\`, "[a]\nr = \"\\\"\\\\\"\n"},
		{"at the top", "t = \"1\"\n[a]\n", "b", "y", "t = \"1\"\nb = \"y\"\n[a]\n"},
		{"in an empty file", "", "a/x/l", "y", "[a.x]\nl = \"y\"\n"},
	} {
		t.Run(test.name, func(t *testing.T) {
			got, err := tomlfile.SetText("f", []byte(test.src), path(test.path), test.text)
			if err != nil || string(got) != test.want {
				t.Errorf("got %q, %v; want %q", got, err, test.want)
			}
		})
	}
}

func TestSetTruth(t *testing.T) {
	for _, test := range []struct {
		src  string
		is   bool
		want string
	}{
		{"[a]\nr = { begins = \"1\" } # so\n", true, "[a]\nr = { begins = \"1\", upright = true } # so\n"},
		{"[a.r]\nupright = true # so\n", false, "[a.r]\nupright = false # so\n"},
		{"[a]\nr.upright = \"yes\"\n", true, "[a]\nr.upright = true\n"},
		{"", true, "[a.r]\nupright = true\n"},
	} {
		got, err := tomlfile.SetTruth("f", []byte(test.src), []string{"a", "r", "upright"}, test.is)
		if err != nil || string(got) != test.want {
			t.Errorf("%q: got %q, %v; want %q", test.src, got, err, test.want)
		}
	}
}

func TestSetTextRefuses(t *testing.T) {
	const src = "[a]\nr = \"x\"\nl = [\"1\"]\n"
	for name, test := range map[string]struct {
		src, text string
		path      []string
		kind      error
	}{
		"the end of a line": {src, "1\n2", []string{"a", "r"}, tomlfile.ErrText},
		"an unseen sign":    {src, "1\x1b[2J", []string{"a", "r"}, tomlfile.ErrText},
		"no UTF-8":          {src, "1\xff", []string{"a", "r"}, tomlfile.ErrText},
		"a million":         {src, strings.Repeat("1", 1<<20), []string{"a", "r"}, tomlfile.ErrText},
		"a table":           {src, "1", []string{"a"}, nil},
		"within a text":     {src, "1", []string{"a", "r", "x"}, nil},
		"no TOML":           {"[a\nr = 1\n", "1", []string{"a", "r"}, nil},
	} {
		out, err := tomlfile.SetText("f", []byte(test.src), test.path, test.text)
		if err == nil || out != nil || test.kind != nil && !errors.Is(err, test.kind) {
			t.Errorf("%s: %q, %v", name, out, err)
		}
	}
}

func TestSetListed(t *testing.T) {
	for _, test := range []struct {
		name, src, text string
		listed          bool
		want            string
	}{
		{"added", "[a]\ns = [\"1\"] # so\n", "2", true, "[a]\ns = [\"1\", \"2\"] # so\n"},
		{"there already", "[a]\ns = ['2']\n", "2", true, "[a]\ns = ['2']\n"},
		{"a list that is not there", "[a]\nl = \"1\"\n", "2", true, "[a]\nl = \"1\"\ns = [\"2\"]\n"},
		{"taken out of the middle", "[a]\ns = [\"1\", \"2\", \"3\"]\n", "2", false, "[a]\ns = [\"1\", \"3\"]\n"},
		{"taken out at the end", "[a]\ns = [\"1\", \"2\"]\n", "2", false, "[a]\ns = [\"1\"]\n"},
		{"the only one taken out", "[a]\ns = [\"2\"]\n", "2", false, "[a]\ns = []\n"},
		{"not there", "[a]\nl = \"1\"\n", "2", false, "[a]\nl = \"1\"\n"},
	} {
		got, err := tomlfile.SetListed("f", []byte(test.src), []string{"a", "s"}, test.text, test.listed)
		if err != nil || string(got) != test.want {
			t.Errorf("%s: %q, %v; want %q", test.name, got, err, test.want)
		}
	}
}

func TestSetList(t *testing.T) {
	for _, test := range []struct{ name, src, want string }{
		{"for a text", "[a]\ns = \"all\" # of them\nt = 1\n", "[a]\ns = [\"1\", \"b \\\"2\\\"\"] # of them\nt = 1\n"},
		{"for a list, behind a mark of its order of bytes", "\ufeff[a]\r\ns = ['x']\r\n", "\ufeff[a]\r\ns = [\"1\", \"b \\\"2\\\"\"]\r\n"},
		{"nothing there", "[a]\nt = 1\n", "[a]\nt = 1\ns = [\"1\", \"b \\\"2\\\"\"]\n"},
		{"in braces", "a = { s = 'all', t = 1 }", "a = { s = [\"1\", \"b \\\"2\\\"\"], t = 1 }"},
	} {
		got, err := tomlfile.SetList("f", []byte(test.src), []string{"a", "s"}, []string{"1", `b "2"`})
		if err != nil || string(got) != test.want {
			t.Errorf("%s: %q, %v; want %q", test.name, got, err, test.want)
		}
	}
	for name, src := range map[string]string{"no TOML": "[a\n", "a table": "[a.s]\nx = 1\n"} {
		if got, err := tomlfile.SetList("f", []byte(src), []string{"a", "s"}, nil); err == nil {
			t.Errorf("%s: %q", name, got)
		}
	}
}

// Every value of drawn files is changed in turn: what else stands there stays.
func TestSetTextAlone(t *testing.T) {
	word := rapid.StringMatching(`[a-z][a-z ]{0,4}[a-z]`)
	name := func(w string) string {
		if strings.Contains(w, " ") {
			return `"` + w + `"`
		}
		return w
	}
	rapid.Check(t, func(t *rapid.T) {
		eol := rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "end of line")
		var b strings.Builder
		var paths [][]string
		var values []int // where each stands
		value := func(path ...string) {
			text := rapid.SampledFrom([]string{`"?"`, `'a # b'`, `"]"`, `"\"}"`, `"""x"""`}).Draw(t, "text")
			paths, values = append(paths, path), append(values, b.Len())
			b.WriteString(text)
		}
		for i, head := range rapid.SliceOfNDistinct(word, 1, 4, rapid.ID).Draw(t, "heads") {
			b.WriteString("[" + name(head) + "]" + rapid.SampledFrom([]string{"", " # so]"}).Draw(t, "remark") + eol)
			for k, key := range rapid.SliceOfNDistinct(word, 0, 4, rapid.ID).Draw(t, "keys") {
				b.WriteString(name(key) + " = ")
				if (i+k)%2 == 0 {
					value(head, key)
				} else {
					b.WriteString("{ 1 = ")
					value(head, key, "1")
					b.WriteString(" , 2= ")
					value(head, key, "2")
					b.WriteString("}")
				}
				b.WriteString(rapid.SampledFrom([]string{"", "  # remark {"}).Draw(t, "remark") + eol)
			}
		}
		src := []byte(b.String())
		for i, path := range paths {
			got, err := tomlfile.SetText("f", src, path, "new")
			if err != nil {
				t.Fatalf("%q in\n%s\n%v", path, src, err)
			}
			at := values[i]
			tail := src[at:]
			tail = tail[len(rest(tail)):]
			if want := bytes.Join([][]byte{src[:at], []byte(`"new"`), tail}, nil); !bytes.Equal(got, want) {
				t.Fatalf("%q:\n%s\nwant\n%s", path, got, want)
			}
		}
	})
}

// rest is the text in quotes with which tail begins, as it was drawn.
func rest(tail []byte) string {
	for _, text := range []string{`"?"`, `'a # b'`, `"]"`, `"\"}"`, `"""x"""`} {
		if bytes.HasPrefix(tail, []byte(text)) {
			return text
		}
	}
	return ""
}
