package job_test

import (
	"strings"
	"testing"

	"example.com/closefit/examples/kit/job"
)

// What a row that is typed would lead to is what the job's record says once the row stands in its file.
func TestTryCodes(t *testing.T) {
	src, _ := job.Demonstration("all-proven")
	const was = `upper = "L K M L K"`
	if !strings.Contains(string(src), was) {
		t.Fatalf("no %s", was)
	}
	j, err := job.Read("j", src)
	if err != nil {
		t.Fatal(err)
	}
	a, err := j.Assess(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"L K M L K", "L ? M L K"} {
		stored, err := job.Read("j", []byte(strings.Replace(string(src), was, `upper = "`+text+`"`, 1)))
		if err != nil {
			t.Fatal(err)
		}
		after, err := stored.Assess(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		tried := j.TryCodes(a, "main", "upper", text)
		for i, c := range after.Shells[0].Locations {
			if got := tried.At[i].Shells[0]; got.Chosen != (c.By != "") || got.Chosen && got.Shells != c.Codes {
				t.Errorf("%s at %s: %+v, and stored %+v", text, c.Location, got, c)
			}
		}
	}
	if got := j.TryCodes(a, "main", "upper", "L K X L K"); !strings.Contains(got.Problem, "X") {
		t.Errorf("a code that the scheme does not have: %+v", got)
	}
	if got := j.TryCodes(a, "rod", "upper", "L"); got.Problem == "" {
		t.Error("a row that the job does not have is read")
	}
}
