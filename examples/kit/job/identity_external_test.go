package job_test

import (
	"errors"
	"strings"
	"testing"

	"example.com/closefit/examples/kit/files/planfile"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/torque/ledger"
)

// TestIdentity: a job is read without a name for its engine and its build; a ledger's work
// needs both, and the error names the keys. Of an assembly it is called as the phase.
func TestIdentity(t *testing.T) {
	const rest = "title = \"t\"\n[engine]\ncylinders = 1\nmains = 2\nthrust = \"1\"\nrings = [\"ring\"]\npassages = [\"gallery\"]\n"
	read := func(src string) *job.Job {
		t.Helper()
		j, err := job.Read("pump.toml", []byte(src))
		if err != nil {
			t.Fatal(err)
		}
		return j
	}
	identity := read("build = \"second rebuild\"\nwitness = \"../copies\"\n" + rest + "name = \"pump engine 4711\"\n").Identity()
	work, err := identity.Work(job.Trial.String())
	if want := (ledger.Work{Engine: "pump engine 4711", Build: "second rebuild", Assembly: "trial assembly"}); err != nil || work != want || identity.Witness != "../copies" {
		t.Errorf("%+v, %q, %v", work, identity.Witness, err)
	}
	_, err = read(rest + "name = \"?\"\n").Identity().Work(job.Final.String())
	for _, want := range []string{`pump.toml:8: engine.name: missing`, `write which engine it is, as in name = "lock gate engine 4711"`, `build: missing`, `as in build = "rebuild of autumn"`} {
		if !errors.Is(err, planfile.ErrMissing) || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q in it", err, want)
		}
	}
}

// TestNewAsksForTheWork: a job that is begun has the keys, open, and no ledger is kept before they
// are filled in.
func TestNewAsksForTheWork(t *testing.T) {
	src, err := job.Beginning{Cylinders: "1", Mains: "2", Rings: "ring", Passages: "gallery"}.File()
	if err != nil {
		t.Fatal(err)
	}
	text := string(src)
	for key, name := range map[string]string{"\nname = \"?\"": "\nname = \"pump engine 4711\"", "\nbuild = \"?\"": "\nbuild = \"first\""} {
		if strings.Count(text, key) != 1 {
			t.Errorf("%q is not in\n%s", key, src)
		}
		text = strings.Replace(text, key, name, 1)
	}
	for _, at := range []string{string(src), text} {
		j, err := job.Read("pump.toml", []byte(at))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := j.Identity().Work(""); (err == nil) != (at == text) {
			t.Errorf("%v", err)
		}
	}
}

// TestDemonstrationsHaveWork: the ledger of each demonstration has an engine and a build of its
// own.
func TestDemonstrationsHaveWork(t *testing.T) {
	seen := map[ledger.Work]string{}
	for _, name := range job.Demonstrations() {
		src, err := job.Demonstration(name)
		if err != nil {
			t.Fatal(err)
		}
		j, err := job.Read(name+".toml", src)
		if err != nil {
			t.Fatal(err)
		}
		work, err := j.Identity().Work("")
		if err != nil || seen[work] != "" {
			t.Errorf("%s: %v, also of %q: %v", name, work, seen[work], err)
		}
		seen[work] = name
	}
}
