package jobtest_test

import (
	"testing"

	"example.com/closefit/examples/kit/job"
	"example.com/closefit/examples/kit/job/jobtest"
)

// TestTwelve: everything of the job is proven but its shells, which are to be bought.
func TestTwelve(t *testing.T) {
	j, err := job.Read("twelve.toml", []byte(jobtest.Twelve()))
	if err != nil {
		t.Fatal(err)
	}
	a, err := j.Assess(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Items) < 400 {
		t.Errorf("%d items: not every line is read", len(a.Items))
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
