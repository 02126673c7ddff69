package job_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/closefit/examples/kit/files/tomlfile"
	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/job/jobtest"
	"example.com/closefit/internal/thorough"
)

// What a reading would lead to is what the job with that reading in it leads to: every reading of
// the jobs is taken out, and tried.
func TestTry(t *testing.T) {
	sources := map[string][]byte{"twelve": []byte(jobtest.Twelve())}
	for _, name := range job.Demonstrations() {
		sources[name], _ = job.Demonstration(name)
	}
	for name, src := range sources {
		t.Run(name, func(t *testing.T) { tryAll(t, src, 41) })
	}
}

func TestTryDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { tryAll(t, []byte(jobtest.Draw(t).String()), 37) })
}

// tryAll tries each n-th reading of a job.
func tryAll(t interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}, src []byte, n int) {
	t.Helper()
	if thorough.Whole() {
		n = 1
	}
	j, err := job.Read("j", src)
	if err != nil {
		t.Fatal(err)
	}
	a, err := j.Assess(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	whole := map[string]job.Finding{}
	for _, f := range a.Verdicts() {
		whole[f.Name()] = f
	}
	tried := 0
	for _, m := range j.Measurables() {
		for _, p := range m.Places {
			if tried++; p.Text == "?" || tried%n != 0 {
				continue
			}
			out, err := tomlfile.SetText("j", src, p.Keys, "?")
			if err != nil {
				t.Fatal(err)
			}
			before, err := job.Read("j", out)
			if err != nil {
				t.Fatalf("without %s: %v", p.Name, err)
			}
			got := before.Try(m.Name, p.Location, p.Text, p.Sure)
			if got.Problem != "" {
				t.Fatalf("%s %q: %s", p.Name, p.Text, got.Problem)
			}
			for _, l := range got.Looked {
				if !slices.ContainsFunc(a.Looked, func(w job.Looked) bool { return w.Name() == l.Name() && w.State == l.State && w.Good == l.Good }) {
					t.Fatalf("%s %q: looked at: %+v", p.Name, p.Text, l)
				}
			}
			own := len(got.Looked) > 0 || !m.Asked || m.Words != nil
			for _, f := range got.Findings {
				w, there := whole[f.Name()]
				if !there {
					t.Fatalf("%s %q: %s is not judged in the job", p.Name, p.Text, f.Name())
				}
				own = own || f.Location == p.Location && f.Group == m.Group
				if strings.Contains(w.Slip, "Look in the manual") {
					continue // a question about limits follows from all readings
				}
				if f.Measured.Text != w.Measured.Text || f.Verdict != w.Verdict || f.Advice != w.Advice || f.How != w.How || f.Slip != w.Slip || f.Taken != w.Taken {
					t.Fatalf("%s %q: %s:\n%+v\nand in the job\n%+v", p.Name, p.Text, f.Name(), f, w)
				}
			}
			if !own {
				t.Fatalf("%s %q: its own line is not judged: %+v", p.Name, p.Text, got.Findings)
			}
		}
	}
	if tried == 0 {
		t.Fatal("nothing is read")
	}
}

func TestTryRefuses(t *testing.T) {
	src, _ := job.Demonstration("lock-gate")
	j, err := job.Read("j", src)
	if err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct{ line, at, text, want string }{
		{"main bearing clearance", "9", "0.060 mm", "no such place"},
		{"main bearing clearing", "1", "0.060 mm", "no such place"},
		{"main bearing clearance", "1", "0.061 mm", "0.061"},
		{"main bearing clearance", "1", "", "Missing"},
		{"main bearing clearance", "1", "<script>", "<script>"},
		{"main journal", "3", "58.360", "unit"},
		{"main journal", "3", "wire: 58.360 mm", `"wire"`},
		{"passage", "main gallery", "shining", `"clean" or "blocked"`},
	} {
		if got := j.Try(test.line, test.at, test.text, false); !strings.Contains(got.Problem, test.want) || got.Findings != nil {
			t.Errorf("%s %s %q: %+v", test.line, test.at, test.text, got)
		}
	}
	if got := j.Try("main journal", "3", "5.8360 mm", false); len(got.Slips) == 0 || strings.Contains(got.Slips[0], "sure") {
		t.Errorf("a slip is not asked after: %+v", got.Slips)
	}
	if got := j.Try("main journal", "3", "5.8360 mm", true); len(got.Slips) > 0 {
		t.Errorf("it was said to stand: %q", got.Slips)
	}
}
