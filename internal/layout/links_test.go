package layout

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
)

// TestLinks: each link of a page to another file leads to one that is there, and to a heading that it has.
func TestLinks(t *testing.T) {
	pages := map[string]string{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == ".git" || d.Name() == "node_modules") {
			return filepath.SkipDir
		}
		if filepath.Ext(path) != ".md" {
			return nil
		}
		text, err := os.ReadFile(path)
		pages[path] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for path, text := range pages {
		for _, fault := range linkFaults(path, text, func(target string) (string, bool) {
			if text, is := pages[target]; is {
				return text, true
			}
			_, err := os.Stat(target)
			return "", err == nil
		}) {
			t.Errorf("%s: %s", path, fault)
		}
	}
	if first := filepath.Join(root, "README.md"); len(links(pages[first])) == 0 {
		t.Errorf("%s: no link was found", first)
	}
}

func TestLinkFaults(t *testing.T) {
	text := "# The top\n\nSee [this](#the-top), [that](a/B.md), [part](a/B.md#two-words-and-code), [a file](a/data.csv), [out](https://example.com/x#y)."
	others := map[string]string{"docs/a/B.md": "# B\n\n## Two words, and `code`\n\n```\n## no heading\n[no link](nowhere.md)\n```\n", "docs/a/data.csv": ""}
	tests := []struct {
		name, old, new string
		faults         []string
	}{
		{"all there", "", "", nil},
		{"no such heading here", "#the-top", "#top", []string{"#top: no such heading"}},
		{"no such file", "(a/B.md)", "(B.md)", []string{"B.md: no such file"}},
		{"no such heading there", "#two-words-and-code", "#two-words", []string{"a/B.md#two-words: no such heading"}},
		{"a heading in a block of code", "#two-words-and-code", "#no-heading", []string{"a/B.md#no-heading: no such heading"}},
		{"in code", "[that](a/B.md)", "`[that](nowhere.md)`", nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			faults := linkFaults("docs/page.md", strings.Replace(text, test.old, test.new, 1), func(target string) (string, bool) {
				text, is := others[target]
				return text, is
			})
			if !slices.Equal(faults, test.faults) {
				t.Errorf("faults %q, want %q", faults, test.faults)
			}
		})
	}
}

// linkFaults are the links of a page that lead nowhere; read gives a file's text, and whether there is one.
func linkFaults(path, text string, read func(string) (string, bool)) []string {
	var faults []string
	for _, link := range links(text) {
		file, heading, _ := strings.Cut(link, "#")
		there := text
		if file != "" {
			var is bool
			if there, is = read(filepath.Join(filepath.Dir(path), filepath.FromSlash(file))); !is {
				faults = append(faults, link+": no such file")
				continue
			}
		}
		if heading != "" && !slices.Contains(headings(there), heading) {
			faults = append(faults, link+": no such heading")
		}
	}
	return faults
}

var (
	fence   = regexp.MustCompile("(?ms)^```.*?^```")
	inCode  = regexp.MustCompile("`[^`\n]*`")
	link    = regexp.MustCompile(`\]\(([^)\s]+)\)`)
	title   = regexp.MustCompile(`(?m)^#{1,6} +(.*)$`)
	outside = regexp.MustCompile(`^[a-z]+:`)
)

// links are the links of a page within the tree, those in code left out.
func links(text string) []string {
	var all []string
	for _, m := range link.FindAllStringSubmatch(inCode.ReplaceAllString(fence.ReplaceAllString(text, ""), ""), -1) {
		if !outside.MatchString(m[1]) {
			all = append(all, m[1])
		}
	}
	return all
}

// headings are the anchors of a page's headings: small letters, a dash for a space, no other signs.
func headings(text string) []string {
	var all []string
	for _, m := range title.FindAllStringSubmatch(fence.ReplaceAllString(text, ""), -1) {
		all = append(all, strings.Map(func(r rune) rune {
			switch {
			case r == ' ':
				return '-'
			case r == '-' || r == '_' || unicode.IsLetter(r) || unicode.IsDigit(r):
				return unicode.ToLower(r)
			}
			return -1
		}, m[1]))
	}
	return all
}
