package record_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"github.com/google/go-cmp/cmp"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/job/jobtest"
	"example.com/closefit/examples/kit/record"
	"example.com/closefit/internal/thorough"
)

// sameAgain fails unless the record made of an assessment's own JSON is the same record in
// every form.
func sameAgain(t interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}, a *job.Assessment) {
	t.Helper()
	write := func(f record.Format, a *job.Assessment) string {
		var b strings.Builder
		if err := record.Write(&b, f, a); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	again, err := record.Read(strings.NewReader(write(record.JSON, a)))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range append(record.Formats(), record.SVG) {
		if diff := cmp.Diff(write(f, a), write(f, again)); diff != "" {
			t.Fatalf("%s made of its own JSON (-was +is):\n%s", f, diff)
		}
	}
}

// TestReadDemonstrations: the record made from its own JSON is the same record.
func TestReadDemonstrations(t *testing.T) {
	for _, name := range job.Demonstrations() {
		sameAgain(t, assess(t, name))
	}
	if thorough.Whole() {
		for _, a := range filmed(t) {
			sameAgain(t, a)
		}
	}
}

// TestReadGenerated: so it is for any engine, whole or with a line of its job taken out.
func TestReadGenerated(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := jobtest.Draw(t)
		lines := g.Lines
		if rapid.Bool().Draw(t, "take one out") {
			at := rapid.IntRange(1, len(lines)-1).Draw(t, "line")
			lines = append(append([]string{}, lines[:at]...), lines[at+1:]...)
		}
		j, err := job.Read("job.toml", []byte(strings.Join(lines, "\n")+"\n"))
		if err != nil {
			return
		}
		a, err := j.Assess(t.Context())
		if err != nil {
			return
		}
		sameAgain(t, a)
	})
}

// TestReadRefuses: what no record says is refused, and never read as nothing.
func TestReadRefuses(t *testing.T) {
	text := render(t, record.JSON, assess(t, "lock-gate"))
	var d map[string]any
	if err := json.Unmarshal([]byte(text), &d); err != nil {
		t.Fatal(err)
	}
	changed := func(change func(map[string]any)) string {
		var d map[string]any
		if err := json.Unmarshal([]byte(text), &d); err != nil {
			t.Fatal(err)
		}
		change(d)
		b, err := json.Marshal(d)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	if _, err := record.ReadUnsealed(strings.NewReader(changed(func(map[string]any) {}))); err != nil {
		t.Fatalf("with its keys in another order: %v", err)
	}
	tests := map[string]string{
		"nothing":             "",
		"a list":              "[]",
		"cut short":           text[:len(text)-3],
		"no version":          changed(func(d map[string]any) { delete(d, "closefit") }),
		"version 1":           changed(func(d map[string]any) { d["closefit"] = 1 }),
		"another key":         changed(func(d map[string]any) { d["sure"] = true }),
		"proven all the same": changed(func(d map[string]any) { d["proven"] = true }),
		"an open gate":        changed(func(d map[string]any) { d["gates"].([]any)[3].(map[string]any)["open"] = true }),
		"an item gone":        changed(func(d map[string]any) { d["items"] = d["items"].([]any)[1:] }),
		"a verdict gone":      changed(func(d map[string]any) { d["verdicts"] = d["verdicts"].([]any)[1:] }),
		"a verdict more":      changed(func(d map[string]any) { l := d["verdicts"].([]any); d["verdicts"] = append(l, l[len(l)-1]) }),
		"a new word":          changed(func(d map[string]any) { d["verdicts"].([]any)[0].(map[string]any)["verdict"] = "fine" }),
		"a group moved":       changed(func(d map[string]any) { l := d["groups"].([]any); l[0], l[1] = l[1], l[0] }),
		"no bolts":            changed(func(d map[string]any) { d["tightening"].([]any)[0].(map[string]any)["bolts"] = []any{} }),
		"a bolt far off": changed(func(d map[string]any) {
			d["tightening"].([]any)[0].(map[string]any)["bolts"].([]any)[0].(map[string]any)["x"] = 1e300
		}),
	}
	for key := range d {
		tests["without "+key] = changed(func(d map[string]any) { delete(d, key) })
	}
	for name, text := range tests {
		if _, err := record.ReadUnsealed(strings.NewReader(text)); !errors.Is(err, record.ErrRecord) {
			t.Errorf("%s: %v, want ErrRecord", name, err)
		}
	}
}

// FuzzRead: whatever is read, it is refused or is a record that can be shown in every form,
// and is the same when it is read again.
func FuzzRead(f *testing.F) {
	j, err := job.Read("small.toml", []byte(small+"[[tightening]]\ngroup = \"b\"\nbolts = [\"1\", \"2\"]\nstages = [{ torque = \"9 N·m\" }]\n"))
	if err != nil {
		f.Fatal(err)
	}
	a, err := j.Assess(f.Context())
	if err != nil {
		f.Fatal(err)
	}
	var b strings.Builder
	if err := record.Write(&b, record.JSON, a); err != nil {
		f.Fatal(err)
	}
	f.Add(b.String())
	f.Fuzz(func(t *testing.T, text string) {
		a, err := record.ReadUnsealed(strings.NewReader(text))
		if err != nil {
			return
		}
		sameAgain(t, a)
	})
}
