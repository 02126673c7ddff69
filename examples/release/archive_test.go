package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"time"
)

var commitTime = time.Date(2026, 11, 27, 8, 35, 53, 0, time.UTC)

func some() []file {
	return []file{
		{"closefit/shortblock", true, bytes.Repeat([]byte("program "), 5000)},
		{"closefit/LICENSE", false, []byte("MIT")},
		{"closefit/demonstrations/slate-saw.toml", false, []byte("title = \"a saw\"\n")},
		{"closefit/empty", false, nil},
	}
}

// TestPack: names, modes and texts of every kind of archive, as the library's own readers see them.
func TestPack(t *testing.T) {
	type entry struct {
		name string
		mode fs.FileMode
		time time.Time
		text string
	}
	var want []entry
	for _, f := range some() {
		mode := fs.FileMode(0o644)
		if f.run {
			mode = 0o755
		}
		want = append(want, entry{f.name, mode, commitTime, string(f.text)})
	}
	slices.SortFunc(want, func(a, b entry) int { return strings.Compare(a.name, b.name) })
	for _, name := range []string{"a.zip", "a.tar.gz", "a.tgz"} {
		var b bytes.Buffer
		if err := pack(&b, name, commitTime.In(time.FixedZone("", 7200)), some()); err != nil {
			t.Fatal(err)
		}
		read, got := untarred, []entry(nil)
		if name == "a.zip" {
			read = unzipped
		}
		read(t, b.Bytes(), func(info fs.FileInfo, name, text string) {
			got = append(got, entry{name, info.Mode(), info.ModTime().UTC(), text})
		})
		if !slices.Equal(got, want) {
			t.Errorf("%s: %v", name, got)
		}
	}
}

func untarred(t *testing.T, archive []byte, entry func(info fs.FileInfo, name, text string)) {
	packed, err := gzip.NewReader(bytes.NewReader(archive))
	if err != nil {
		t.Fatal(err)
	}
	if packed.Name != "" || !packed.ModTime.IsZero() {
		t.Errorf("gzip says %q, %v", packed.Name, packed.ModTime)
	}
	files, err := unpack(bytes.NewReader(archive))
	if err != nil {
		t.Fatal(err)
	}
	r := tar.NewReader(packed)
	for _, f := range files {
		h, err := r.Next()
		if err != nil || h.Name != f.name || f.run != (h.Mode == 0o755) {
			t.Fatalf("%v, %v, %s", h, err, f.name)
		}
		if h.Uid != 0 || h.Gid != 0 || h.Uname != "" || h.Gname != "" {
			t.Errorf("%s belongs to somebody: %v", h.Name, h)
		}
		entry(h.FileInfo(), h.Name, string(f.text))
	}
}

func unzipped(t *testing.T, archive []byte, entry func(info fs.FileInfo, name, text string)) {
	files, err := unzip(archive)
	if err != nil {
		t.Fatal(err)
	}
	r, err := zip.NewReader(bytes.NewReader(archive), int64(len(archive)))
	if err != nil || len(r.File) != len(files) {
		t.Fatal(len(r.File), err)
	}
	for i, f := range files {
		entry(r.File[i].FileInfo(), r.File[i].Name, string(f.text))
	}
}

// TestPackSame: the bytes hang on the files and the time alone.
func TestPackSame(t *testing.T) {
	for _, name := range []string{"a.zip", "a.tar.gz"} {
		var first, again, later, other bytes.Buffer
		turned := some()
		slices.Reverse(turned)
		changed := some()
		changed[1].run = true
		for _, p := range []struct {
			w     *bytes.Buffer
			at    time.Time
			files []file
		}{{&first, commitTime, some()}, {&again, commitTime.Add(time.Millisecond), turned}, {&later, commitTime.Add(2 * time.Second), some()}, {&other, commitTime, changed}} {
			if err := pack(p.w, name, p.at, p.files); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(first.Bytes(), again.Bytes()) {
			t.Errorf("%s: the same files in another order give other bytes", name)
		}
		if bytes.Equal(first.Bytes(), later.Bytes()) || bytes.Equal(first.Bytes(), other.Bytes()) {
			t.Errorf("%s: another time or mode gives the same bytes", name)
		}
	}
}

func TestPackRefuses(t *testing.T) {
	for _, test := range []struct {
		name, archive string
		files         []file
		want          string
	}{
		{"twice", "a.zip", []file{{name: "x/y"}, {name: "z"}, {name: "x/y"}}, "x/y is there twice"},
		{"outside", "a.zip", []file{{name: "../x"}}, `"../x" is no name`},
		{"from the root", "a.tar.gz", []file{{name: "/x"}}, `"/x" is no name`},
		{"with strokes of windows", "a.zip", []file{{name: `x\y`}}, `"x\\y" is no name`},
		{"of another kind", "a.rar", []file{{name: "x"}}, "a.rar is of no kind"},
	} {
		if err := pack(new(bytes.Buffer), test.archive, commitTime, test.files); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: %v, want %q", test.name, err, test.want)
		}
	}
}

// TestFirstSteps: every archive's page has the cautions, and nothing of another one.
func TestFirstSteps(t *testing.T) {
	s := stage{commit: commit{version: "v0.1.0", time: commitTime}}
	own := map[string]string{"linux": "tar -xf closefit-v0.1.0-linux*", "windows": "\"Run anyway\"", "darwin": "Open Anyway", "bench": "open bench.html", "lessons": "teacher-key.html", "javascript": "npm install closefit-v0.1.0-javascript.tgz"}
	for of := range own {
		f, err := s.firstSteps(of)
		if err != nil {
			t.Fatal(err)
		}
		text := string(f.text)
		for _, want := range []string{"closefit v0.1.0: first steps", "maker's manual and licensed practice come first", "eye protection", "LICENSES-OF-OTHERS.txt", own[of]} {
			if !strings.Contains(text, want) {
				t.Errorf("%s lacks %q:\n%s", of, want, text)
			}
		}
		for other, words := range own {
			if other != of && strings.Contains(text, words) {
				t.Errorf("%s has %q, of %s", of, words, other)
			}
		}
		for line := range strings.Lines(text) {
			if strings.Contains(line, "<no value>") || len([]rune(strings.TrimSpace(line))) > 80 {
				t.Errorf("%s: %q", of, line)
			}
		}
		if strings.Contains(strings.ReplaceAll(text, "\r\n", "\n"), "\n\n\n\n") {
			t.Errorf("%s has a hole", of)
		}
	}
}

// TestDocuments: what is read beside the programs is there, and the keys of jobs begin with their file.
func TestDocuments(t *testing.T) {
	t.Chdir("../..")
	files, err := documents()
	if err != nil {
		t.Fatal(err)
	}
	begins := map[string]string{
		"KEYS-OF-JOBS.txt": "# The file\n", "KEYS-OF-PLANS.txt": "Package planfile reads tightening plans", "KEYS-OF-MAPS.txt": "Package mapfile reads a map",
		"QUESTIONS.md": "# ", "checkrecord.py": "#!", "openapi.json": "{", "demonstrations/lock-gate.toml": "#", "demonstrations/all-proven.toml": "#",
	}
	for _, f := range files {
		if want, asked := begins[f.name]; asked && !strings.HasPrefix(string(f.text), want) {
			t.Errorf("%s begins %.60q, want %q", f.name, f.text, want)
		}
		delete(begins, f.name)
	}
	if len(begins) > 0 {
		t.Errorf("these are not there: %v", begins)
	}
}
