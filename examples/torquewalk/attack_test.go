package main

import (
	"bytes"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

var (
	update = flag.Bool("update", false, "rewrite the table of attacks in RELIABILITY.md")
	flips  = flag.Int("flips", 24, "how many bits of a ledger and of its witness are flipped")
)

// The scene of most attacks: all four bolts are tightened, FL and FR are turned, and the turn of
// RL is begun. Whatever happens to the files, none of the three may be turned again without a
// word.
const turned = 6

// scene is a bench on which that was recorded, and copies of its files from before.
type scene struct {
	folder  string // with the bench and the witness
	witness string // its name in the folder of witnesses
}

// newScene records it once, for copies to be attacked.
func newScene(t *testing.T) *scene {
	t.Helper()
	b := newBench(t, caps)
	b.call(done, "-start", "no")
	b.call(done, "-tool", "wrench 2")
	for n := 1; n <= turned; n++ {
		b.does(n)
		b.keep(t, fmt.Sprintf("after-%d", n))
	}
	found, err := os.ReadDir(b.witness)
	if err != nil || len(found) != 1 {
		t.Fatalf("%v, %d witnesses", err, len(found))
	}
	return &scene{filepath.Dir(b.folder), found[0].Name()}
}

// keep keeps copies of the ledger and its witness.
func (b *bench) keep(t *testing.T, name string) {
	t.Helper()
	at := filepath.Join(filepath.Dir(b.folder), "kept", name)
	if err := os.MkdirAll(at, 0o755); err != nil {
		t.Fatal(err)
	}
	copyFile(t, b.ledger(), filepath.Join(at, "ledger"))
	found, err := filepath.Glob(filepath.Join(b.witness, "*.witness"))
	if err != nil || len(found) != 1 {
		t.Fatalf("%v, %q", err, found)
	}
	copyFile(t, found[0], filepath.Join(at, "witness"))
}

// copied is a copy of the scene.
func (s *scene) copied(t *testing.T) *bench {
	t.Helper()
	at := t.TempDir()
	if err := os.CopyFS(at, os.DirFS(s.folder)); err != nil {
		t.Fatal(err)
	}
	b := &bench{t: t, folder: filepath.Join(at, "bench"), witness: filepath.Join(at, "witness")}
	b.plan, b.options = filepath.Join(b.folder, "pump.toml"), []string{"-witness", b.witness}
	return b
}

// A row of the table is what came of an attack: how often the program went on with all that was
// acknowledged, refused to go on and named the bolts that may have been turned, refused and named
// the file that stands in the way, or did none of these.
type row struct {
	attack, test                      string
	cases, kept, bolts, files, silent int
}

// table gathers the rows of all attacks.
var table struct {
	sync.Mutex
	rows    []*row
	skipped bool // something cannot be tried on this machine
}

// String is the row as the table in RELIABILITY.md has it.
func (r *row) String() string {
	return fmt.Sprintf("| %s | %d | %d | %d | %d | %d | `%s` |", r.attack, r.cases, r.kept, r.bolts, r.files, r.silent, r.test)
}

// reliability compares the table in RELIABILITY.md with what came of all attacks, or rewrites it.
// A run of some of the tests, or on a machine that cannot do all of them, says nothing of it.
func reliability() error {
	const all, path, begin, end = 11, "../../RELIABILITY.md", "<!-- attacks on the program -->\n", "<!-- end -->\n"
	var b strings.Builder
	for _, r := range table.rows {
		fmt.Println(r)
		fmt.Fprintln(&b, r)
	}
	if len(table.rows) < all || table.skipped || *flips != 24 {
		return nil
	}
	text, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	before, rest, ok1 := strings.Cut(string(text), begin)
	is, after, ok2 := strings.Cut(rest, end)
	const head = "| Attack | Cases | Goes on with all that was acknowledged | Refuses, and names the bolts | Refuses, and names the file | Silent | Test |\n|---|--:|--:|--:|--:|--:|---|\n"
	want := head + b.String()
	switch {
	case !ok1 || !ok2:
		return fmt.Errorf("%s has no place for the table of attacks", path)
	case is == want:
		return nil
	case *update:
		return os.WriteFile(path, []byte(before+begin+want+end+after), 0o644)
	}
	return fmt.Errorf("%s does not say what came of the attacks; rewrite it with -update:\n%s", path, want)
}

// attack begins a row.
func attack(t *testing.T, name string) *row {
	r := &row{attack: name, test: t.Name()}
	table.Lock()
	defer table.Unlock()
	table.rows = append(table.rows, r)
	return r
}

// judge looks at what the program makes of files that were attacked: it goes on with all that
// was acknowledged, or says that it does not know and refuses to go on. Anything else is silent.
func (r *row) judge(b *bench, what string) {
	b.t.Helper()
	verdict, why := b.verdict("7. RL: mark it, then turn 50° further\nbegun;")
	r.add(b, what, verdict, why)
}

// add counts a verdict.
func (r *row) add(b *bench, what, verdict, why string) {
	b.t.Helper()
	table.Lock()
	defer table.Unlock()
	r.cases++
	switch verdict {
	case "kept":
		r.kept++
	case "bolts":
		r.bolts++
	case "files":
		r.files++
	default:
		r.silent++
		b.t.Errorf("%s: %s", what, why)
	}
}

// verdict returns "kept" if what is next is all that was acknowledged, "bolts" or "files" by what
// the program names where it refuses; else why it is none of them.
func (b *bench) verdict(next string) (verdict, why string) {
	status, said := b.exec("-next")
	goesOn := status == done && strings.Contains(said, next)
	verdict = "kept"
	switch {
	case goesOn:
	case status == done:
		return "", "-next offers something else:\n" + said
	case strings.Contains(said, "FL, FR, RL") || strings.Contains(said, "any that comes after") || strings.Contains(said, "RL: ") || strings.Contains(said, "RL and RR: "):
		verdict = "bolts"
	case strings.Contains(said, "STOP. "+filepath.Dir(b.folder)) || strings.Contains(said, ": "+b.folder):
		verdict = "files"
	default:
		return "", fmt.Sprintf("-next, status %d, says neither what is next nor what is wrong:\n%s", status, said)
	}
	for _, n := range []string{"5", "6", "7"} {
		if status, said := b.exec("-begin", n); status == done {
			return "", fmt.Sprintf("step %s is begun again:\n%s", n, said)
		}
	}
	if status, said := b.exec("-start", "no"); status == done {
		return "", "a new ledger is started:\n" + said
	}
	if goesOn {
		return verdict, ""
	}
	// On somebody's word it goes on, and still turns no bolt twice.
	_, took := b.exec("-takeover", "the builder: the marks were looked at")
	for _, n := range []string{"5", "6"} {
		if status, said := b.exec("-begin", n); status == done {
			return "", fmt.Sprintf("taken over, and step %s is begun again:\n%s%s", n, took, said)
		}
	}
	return verdict, ""
}

// harms are what happens to a file.
var harms = []struct {
	name string
	do   func(t *testing.T, path, kept string) // kept: the folder of copies from before
}{
	{"deleted", func(t *testing.T, path, _ string) { must(t, os.Remove(path)) }},
	{"moved to another folder", func(t *testing.T, path, kept string) { must(t, os.Rename(path, filepath.Join(kept, "away"))) }},
	{"emptied", func(t *testing.T, path, _ string) { must(t, os.Truncate(path, 0)) }},
	{"zeroed", func(t *testing.T, path, _ string) {
		edit(t, path, func(b []byte) []byte { return make([]byte, len(b)) })
	}},
	{"zeros put in its place", func(t *testing.T, path, _ string) {
		edit(t, path, func([]byte) []byte { return make([]byte, 65535) })
	}},
	{"its last record cut off", func(t *testing.T, path, _ string) { edit(t, path, func(b []byte) []byte { return lines(b, -1) }) }},
	{"its last three records cut off", func(t *testing.T, path, _ string) { edit(t, path, func(b []byte) []byte { return lines(b, -3) }) }},
	{"cut in its last line", func(t *testing.T, path, _ string) { edit(t, path, func(b []byte) []byte { return b[:len(b)-12] }) }},
	{"cut in the middle", func(t *testing.T, path, _ string) { edit(t, path, func(b []byte) []byte { return b[:len(b)/2] }) }},
	{"put back as it was two turns ago", func(t *testing.T, path, kept string) {
		from := "ledger"
		if strings.HasSuffix(path, ".witness") {
			from = "witness"
		}
		copyFile(t, filepath.Join(kept, "after-4", from), path)
	}},
	{"replaced by a file in its place", func(t *testing.T, path, _ string) { // as an editor or a synchroniser does
		text, err := os.ReadFile(path)
		must(t, err)
		must(t, os.WriteFile(path+".tmp", text, 0o644))
		must(t, os.Rename(path+".tmp", path))
	}},
	{"replaced by an older one in its place", func(t *testing.T, path, _ string) {
		text, err := os.ReadFile(path)
		must(t, err)
		must(t, os.WriteFile(path+".tmp", lines(text, -5), 0o644))
		must(t, os.Rename(path+".tmp", path))
	}},
	{"one letter changed in the middle", func(t *testing.T, path, _ string) {
		edit(t, path, func(b []byte) []byte { b[len(b)-200] ^= 1; return b })
	}},
	{"its last newline altered", func(t *testing.T, path, _ string) {
		edit(t, path, func(b []byte) []byte { b[len(b)-1] = ' '; return b })
	}},
	{"its last newline cut off", func(t *testing.T, path, _ string) { edit(t, path, func(b []byte) []byte { return b[:len(b)-1] }) }},
	{"its line ends changed", func(t *testing.T, path, _ string) {
		edit(t, path, func(b []byte) []byte { return bytes.ReplaceAll(b, []byte("\n"), []byte("\r\n")) })
	}},
	{"its last line written twice", func(t *testing.T, path, _ string) {
		edit(t, path, func(b []byte) []byte { return append(b, b[len(lines(b, -1)):]...) })
	}},
	{"a line taken out", func(t *testing.T, path, _ string) {
		edit(t, path, func(b []byte) []byte {
			return append(bytes.Clone(lines(b, -4)), b[len(lines(b, -3)):]...)
		})
	}},
	{"a text written at its end", func(t *testing.T, path, _ string) {
		edit(t, path, func(b []byte) []byte { return append(b, "seen by the apprentice\n"...) })
	}},
	{"a folder put in its place", func(t *testing.T, path, _ string) {
		must(t, os.Remove(path))
		must(t, os.Mkdir(path, 0o755))
	}},
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// edit writes a file anew, in the same place.
func edit(t *testing.T, path string, change func([]byte) []byte) {
	t.Helper()
	text, err := os.ReadFile(path)
	must(t, err)
	must(t, os.WriteFile(path, change(text), 0o644))
}

// lines returns a text without so many lines at its end.
func lines(text []byte, less int) []byte {
	all := bytes.SplitAfter(text, []byte("\n"))
	return bytes.Join(all[:len(all)-1+less], nil)
}

// TestAttacksOnClosedFiles: each harm to the ledger, and to its witness, between two calls.
func TestAttacksOnClosedFiles(t *testing.T) {
	s := newScene(t)
	for _, target := range []string{"ledger", "witness"} {
		r := attack(t, fmt.Sprintf("the %s harmed between two calls, in %d ways", target, len(harms)))
		for _, harm := range harms {
			t.Run(target+" "+harm.name, func(t *testing.T) {
				t.Parallel()
				b := s.copied(t)
				b.call(done, "-begin", "7")
				path := b.ledger()
				if target == "witness" {
					path = filepath.Join(b.witness, s.witness)
				}
				harm.do(t, path, filepath.Join(filepath.Dir(b.folder), "kept"))
				r.judge(b, target+" "+harm.name)
			})
		}
	}
}

// TestAttacksOnOpenFiles: each harm to the ledger and to its witness while the terminal shows BEGUN.
// What it then acknowledges is in both files; else it says that it no longer knows.
func TestAttacksOnOpenFiles(t *testing.T) {
	s := newScene(t)
	for _, target := range []string{"ledger", "witness"} {
		r := attack(t, fmt.Sprintf("the %s harmed while the terminal has it open, in %d ways", target, len(harms)))
		for _, harm := range harms {
			t.Run(target+" "+harm.name, func(t *testing.T) {
				t.Parallel()
				b := s.copied(t)
				terminal := b.open()
				terminal.prompt()
				has(t, terminal.types(""), "Do not pull yet.")
				has(t, terminal.types(""), "BEGUN: 7. RL")
				path := b.ledger()
				if target == "witness" {
					path = filepath.Join(b.witness, s.witness)
				}
				harm.do(t, path, filepath.Join(filepath.Dir(b.folder), "kept"))
				terminal.types("d")
				terminal.type_("")
				terminal.type_("q")
				said := terminal.leave(notAllowed)
				what := target + " " + harm.name
				if strings.Contains(said, "Last: 7. RL: turn 50° further; done") { // acknowledged
					verdict, why := b.verdict("8. RR: mark it, then turn 50° further\npending;")
					r.add(b, what, verdict, why)
					return
				}
				has(t, said, "no All done", "torquewalk: ")
				r.judge(b, what)
			})
		}
	}
}

// TestFlips: bits of the ledger and of its witness are flipped, and both are cut, at places that
// are drawn. Package ledger tries every one.
func TestFlips(t *testing.T) {
	s := newScene(t)
	r := attack(t, "a bit of the ledger or of its witness flipped, or the rest of the file cut off there")
	draw := rand.New(rand.NewPCG(3, 5))
	for n := range *flips {
		b := s.copied(t)
		b.call(done, "-begin", "7")
		path := b.ledger()
		if n%2 == 1 {
			path = filepath.Join(b.witness, s.witness)
		}
		var at int
		edit(t, path, func(text []byte) []byte {
			at = draw.IntN(len(text))
			if n%4 < 2 {
				return text[:at]
			}
			text[at] ^= 1 << draw.IntN(8)
			return text
		})
		r.judge(b, fmt.Sprintf("%s, byte %d", path, at))
	}
}

// TestRename: a ledger that was renamed is found by its work; a copy beside it is refused, for
// only one can be right; one in another folder is missed.
func TestRename(t *testing.T) {
	s := newScene(t)
	r := attack(t, "the ledger renamed, copied or moved; the folder moved; the plan named by a link")
	for _, tt := range []struct {
		name string
		do   func(t *testing.T, b *bench)
		want string
	}{
		{"renamed", func(t *testing.T, b *bench) { must(t, os.Rename(b.ledger(), filepath.Join(b.folder, "old notes.txt"))) }, "under another name"},
		{"copied beside", func(t *testing.T, b *bench) { copyFile(t, b.ledger(), b.ledger()+".bak") }, "2 ledgers of"},
		{"the folder moved", func(t *testing.T, b *bench) {
			to := b.folder + " moved"
			must(t, os.Rename(b.folder, to))
			b.folder, b.plan = to, filepath.Join(to, "pump.toml")
		}, "7. RL"},
		{"the plan renamed", func(t *testing.T, b *bench) {
			to := filepath.Join(b.folder, "caps.toml")
			must(t, os.Rename(b.plan, to))
			b.plan = to
		}, "under another name"},
		{"a link to the plan", func(t *testing.T, b *bench) {
			to := filepath.Join(filepath.Dir(b.folder), "pump.toml")
			must(t, os.Symlink(b.plan, to))
			b.plan = to
		}, "another folder"},
		{"another ledger in its place", func(t *testing.T, b *bench) {
			other := newBench(t, strings.Replace(caps, "engine 7", "engine 8", 1))
			other.call(done, "-start", "no")
			copyFile(t, other.ledger(), b.ledger())
		}, "another work"},
		{"another ledger of the same work in its place", func(t *testing.T, b *bench) {
			other := newBench(t, caps)
			other.call(done, "-start", "no")
			copyFile(t, other.ledger(), b.ledger())
		}, "part in line 1"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			b := s.copied(t)
			b.call(done, "-begin", "7")
			tt.do(t, b)
			_, said := b.exec("-next")
			has(t, said, tt.want)
			r.judge(b, tt.name)
		})
	}
}

// TestElsewhere: the current folder, the umask and the user make no new ledger.
func TestElsewhere(t *testing.T) {
	s := newScene(t)
	r := attack(t, "another current folder, umask 077, another user, a disk that cannot be written")
	others := []string{"setpriv", "--reuid=65534", "--clear-groups"}
	root := os.Getuid() == 0
	if root && exec.Command(others[0], append(others[1:], built, "-version")...).Run() != nil {
		table.skipped = true
		t.Skip("no other user reaches the folder of temporary files")
	}
	for _, tt := range []struct {
		name string
		root bool
		do   func(t *testing.T, b *bench)
	}{
		{"from another folder", false, func(t *testing.T, b *bench) { b.cwd = t.TempDir() }},
		{"from the folder itself", false, func(t *testing.T, b *bench) { b.cwd, b.plan = b.folder, "pump.toml" }},
		{"umask 077", false, func(t *testing.T, b *bench) {
			b.before = []string{"sh", "-c", `umask 077; exec "$0" "$@"`}
			b.must("-notmoved", "7")
			b.must("-begin", "7")
		}},
		{"another user", true, func(t *testing.T, b *bench) {
			must(t, os.Chmod(filepath.Join(b.witness, s.witness), 0o600))
			openUp(t, b.folder)
			b.before = others
		}},
		{"another user with a folder of witnesses of their own", true, func(t *testing.T, b *bench) {
			openUp(t, b.folder)
			own := filepath.Join(filepath.Dir(b.folder), "own")
			must(t, os.Mkdir(own, 0o777))
			must(t, os.Chmod(own, 0o777))
			b.options = []string{"-witness", own}
			b.before = others
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if tt.root && !root {
				table.skipped = true
				t.Skip("only root can run a program as another user")
			}
			b := s.copied(t)
			b.call(done, "-begin", "7")
			tt.do(t, b)
			r.judge(b, tt.name)
		})
	}
	t.Run("a disk that cannot be written", func(t *testing.T) {
		b := s.copied(t)
		b.call(done, "-begin", "7")
		must(t, filepath.WalkDir(filepath.Dir(b.folder), func(path string, entry os.DirEntry, err error) error {
			mode := os.FileMode(0o444)
			if entry.IsDir() {
				mode = 0o555
			}
			return os.Chmod(path, mode)
		}))
		openUp(t, b.folder)
		if root {
			b.before = others
		}
		b.must("-history")
		if status, said := b.exec("-done", "7"); status != badInput || !strings.Contains(said, "permission denied") {
			t.Errorf("status %d\n%s", status, said)
		}
		r.judge(b, "a disk that cannot be written")
	})
}

// openUp lets others into the folders above one of a test.
func openUp(t *testing.T, folder string) {
	t.Helper()
	for at := filepath.Dir(folder); at != os.TempDir() && at != filepath.Dir(at); at = filepath.Dir(at) {
		info, err := os.Stat(at)
		must(t, err)
		must(t, os.Chmod(at, info.Mode().Perm()|0o055))
	}
}

// TestFullDisk: the disk is full at each byte of a record's line in turn.
func TestFullDisk(t *testing.T) {
	if _, err := exec.LookPath("prlimit"); err != nil {
		table.skipped = true
		t.Skip("no prlimit to fill a disk with")
	}
	s := newScene(t)
	r := attack(t, "the disk full at some byte of a record, and of a start")
	b := s.copied(t)
	b.call(done, "-begin", "7")
	info, err := os.Stat(b.ledger())
	must(t, err)
	refused := 0
	for more := range 60 {
		if more%6 != 0 && more != 1 {
			continue
		}
		b.before = []string{"prlimit", fmt.Sprintf("--fsize=%d", int(info.Size())+more)}
		status, said := b.exec("-notmoved", "7")
		b.before = nil
		if status == done {
			t.Fatalf("%d bytes more were enough\n%s", more, said)
		}
		if strings.Contains(said, "goroutine") {
			t.Errorf("%d bytes more: it crashed\n%s", more, said)
		}
		refused++
		r.judge(b, fmt.Sprintf("%d bytes more", more))
		if now, err := os.Stat(b.ledger()); err != nil || now.Size() != info.Size() {
			t.Fatalf("%v, %d bytes, want %d", err, now.Size(), info.Size())
		}
	}
	for _, size := range []int{0, 1, 40, 200, 600} {
		b := newBench(t, caps)
		b.before = []string{"prlimit", fmt.Sprintf("--fsize=%d", size)}
		if status, said := b.exec("-start", "no"); status == done {
			t.Fatalf("started with %d bytes\n%s", size, said)
		}
		b.before = nil
		status, said := b.exec("-next")
		if status != notAllowed {
			t.Errorf("after a start with %d bytes: status %d\n%s", size, status, said)
		}
		if status, said := b.exec("-start", "no"); status != done { // nothing was acknowledged
			if _, over := b.exec("-takeover", "the builder: it was never begun"); !strings.Contains(over, "recorded") {
				t.Errorf("after a start with %d bytes: status %d\n%s%s", size, status, said, over)
			}
		}
		table.Lock()
		r.cases, r.files = r.cases+1, r.files+1
		table.Unlock()
	}
	if refused == 0 {
		t.Error("the disk was never full")
	}
}

// TestTwoShells: two shells drive one ledger at once. Each fact is acknowledged to one of them.
func TestTwoShells(t *testing.T) {
	r := attack(t, "two shells at once, each record asked for by both")
	b := newBench(t, caps)
	b.call(done, "-start", "no")
	for n := 1; n <= 8; n++ {
		for _, act := range []string{"-begin", "-done"} {
			told := make([]int, 2)
			var wait sync.WaitGroup
			for shell := range told {
				wait.Go(func() {
					cmd := exec.Command(built, b.args(act, fmt.Sprint(n))...)
					cmd.Run()
					told[shell] = cmd.ProcessState.ExitCode()
				})
			}
			wait.Wait()
			r.cases++
			if min(told[0], told[1]) == done && max(told[0], told[1]) == notAllowed {
				r.kept++
				continue
			}
			r.silent++
			t.Errorf("%s %d: status %v, want one of each", act, n, told)
		}
	}
	if n := b.next(done); !n.Finished || *n.Done != 8 {
		t.Errorf("%+v", n)
	}
}

// TestTwoMachines: a ledger in a shared folder is used by two machines, each with its own
// witnesses. Neither goes on with what the other did without a word.
func TestTwoMachines(t *testing.T) {
	s := newScene(t)
	r := attack(t, "two machines on one shared folder")
	mine := s.copied(t)
	mine.call(done, "-begin", "7")
	other := *mine
	other.options = []string{"-witness", filepath.Join(filepath.Dir(mine.folder), "other machine")}
	status, said := other.exec("-next")
	if status != notAllowed || !strings.Contains(said, "another machine") || !strings.Contains(said, "FL, FR, RL") {
		t.Errorf("status %d\n%s", status, said)
	}
	r.cases, r.bolts = r.cases+1, r.bolts+1
	if status, said := other.exec("-begin", "8"); status == done {
		t.Errorf("it goes on without a witness\n%s", said)
	}
	other.must("-takeover", "the builder: the first machine is in the other shop")
	other.must("-done", "7")
	r.judge(mine, "the first machine again")
	if status, said := mine.exec("-begin", "7"); status == done {
		t.Errorf("RL is turned twice\n%s", said)
	}
}

// TestKilled: calls are killed at random moments. What was acknowledged is there; of the call that
// was killed, the ledger knows whether it is.
func TestKilled(t *testing.T) {
	r := attack(t, "calls of the program killed at random moments")
	b := newBench(t, caps)
	b.call(done, "-start", "no")
	draw := rand.New(rand.NewPCG(7, 11))
	began := time.Now()
	b.must("-next")
	took := time.Since(began) // of a call that is not killed, on this machine as it is
	step, begun := 1, false   // as far as acknowledged
	for range 16 {            // which can come no further than the last step
		act := "-begin"
		if begun {
			act = "-done"
		}
		cmd := exec.Command(built, b.args(act, fmt.Sprint(step))...)
		must(t, cmd.Start())
		time.Sleep(time.Duration(draw.Int64N(2 * int64(took))))
		cmd.Process.Kill()
		cmd.Wait()
		acknowledged := cmd.ProcessState.ExitCode() == done
		n := b.next(done)
		at, is := n.Step, n.Status == "begun"
		if n.Finished {
			at = 9
		}
		r.cases++
		same := at == step && is == begun
		went := act == "-begin" && at == step && is || act == "-done" && at == step+1 && !is
		if !went && (!same || acknowledged) {
			r.silent++
			t.Fatalf("%s %d was acknowledged: %v; then %+v", act, step, acknowledged, n)
		}
		r.kept++
		step, begun = at, is
	}
}
