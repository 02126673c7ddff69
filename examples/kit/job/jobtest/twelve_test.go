package jobtest_test

import (
	"regexp"
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/job/jobtest"
)

// asked is what a new job asks for under inspect, and name a name in it.
var (
	asked = regexp.MustCompile(`(?s)\ninspect = \[\n(.*?)\n\]\n`)
	name  = regexp.MustCompile(`"([^"]+)"`)
)

// TestTwelve: everything of the job is proven but its shells, which are to be bought, and it
// has every line that a new job of such an engine offers.
func TestTwelve(t *testing.T) {
	j, err := job.Read("twelve.toml", []byte(jobtest.Twelve()))
	if err != nil {
		t.Fatal(err)
	}
	a, err := j.Assess(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	read := map[string]bool{}
	for _, i := range a.Items {
		read[i.Group+" "+i.Quantity], read[i.Group] = true, true
	}
	offered, err := job.Beginning{Cylinders: "12", Mains: "7", Pins: "1-7 2-8 3-9 4-10 5-11 6-12", Rings: "top ring, second ring",
		Passages: "main gallery, drillings", Jets: "12", Decks: "left deck, right deck", Inspect: "all"}.File()
	if err != nil {
		t.Fatal(err)
	}
	names := name.FindAllSubmatch(asked.Find(offered), -1)
	if len(names) < 100 {
		t.Errorf("%d lines are offered", len(names))
	}
	for _, n := range names {
		if !read[string(n[1])] {
			t.Errorf("%q is not read", n[1])
		}
	}
	for _, i := range a.Items {
		want := job.Proven
		if i.Quantity == "shells" {
			want = job.ToOrder
		}
		if i.Standing != want {
			t.Errorf("%s: %s, %s", i.Name, i.Standing, i.Why)
		}
	}
}
