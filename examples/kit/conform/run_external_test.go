package conform_test

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"example.com/closefit/examples/kit/conform"
	"example.com/closefit/internal/thorough"
)

// TestMain lets the test's own program be the one that is asked.
func TestMain(m *testing.M) {
	if how := os.Getenv("CONFORM_ANSWERER"); how != "" {
		answer(how)
		return
	}
	os.Exit(m.Run())
}

// answer is a program that answers in a bad way, or as the library does.
func answer(how string) {
	switch how {
	case "library":
		if err := conform.Answer(context.Background(), os.Stdin, os.Stdout); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	case "dies":
		fmt.Fprintln(os.Stderr, "out of oil")
		os.Exit(3)
	case "hangs", "waits":
		time.Sleep(time.Hour)
	case "long":
		fmt.Print(strings.Repeat("x", conform.MaxLine+10))
		time.Sleep(time.Hour)
	case "floods":
		for {
			if _, err := fmt.Println(`{"id": "nobody asked", "answer": {}}`); err != nil {
				return
			}
		}
	}
	lines := bufio.NewScanner(os.Stdin)
	lines.Buffer(nil, conform.MaxLine)
	for n := 0; lines.Scan(); n++ {
		var reply strings.Builder
		if err := conform.Answer(context.Background(), strings.NewReader(lines.Text()+"\n"), &reply); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		text := strings.TrimSpace(reply.String())
		switch {
		case how == "cannot":
			var q struct{ ID string }
			json.Unmarshal(lines.Bytes(), &q)
			text = fmt.Sprintf(`{"id": %q, "cannot": "never learnt it"}`, q.ID)
		case how == "twice" && n == 1:
			text += "\n" + text
		case how == "unknown" && n == 1:
			text += "\n" + `{"id": "mine", "answer": {}}`
		case how == "garbage" && n == 1:
			text += "\n" + "ready."
		case how == "half" && n == 3:
			return
		case how == "wide":
			text += strings.Repeat(" ", 11<<10)
		case how == "mutant":
			text = mutated(text)
		case how == "does not leave" && n == 0:
			defer time.Sleep(time.Hour)
		}
		fmt.Println(text)
	}
}

// mutated moves the last digit of every number in an answer by one.
func mutated(text string) string {
	var reply struct {
		ID     string         `json:"id"`
		Answer map[string]any `json:"answer"`
	}
	if err := json.Unmarshal([]byte(text), &reply); err != nil {
		return text
	}
	for key, value := range reply.Answer {
		number, is := value.(string)
		if !is || number == "" {
			continue
		}
		if last := number[len(number)-1]; last >= '0' && last <= '9' {
			reply.Answer[key] = number[:len(number)-1] + string('0'+(last-'0'+1)%10)
		}
	}
	out, err := json.Marshal(reply)
	if err != nil {
		return text
	}
	return string(out)
}

// asked asks the test's own program some questions.
func asked(t *testing.T, ctx context.Context, how string, topic string, most int) *conform.Report {
	t.Helper()
	t.Setenv("CONFORM_ANSWERER", how)
	vectors, err := conform.Vectors(topic)
	if err != nil {
		t.Fatal(err)
	}
	bounds := conform.Bounds{Silence: thorough.Patience, Whole: 4 * thorough.Patience, Leaving: thorough.Patience}
	switch how {
	case "hangs":
		bounds.Silence = 200 * time.Millisecond // it never says a word
	case "does not leave":
		bounds.Leaving = 200 * time.Millisecond // it never leaves
	}
	r, err := conform.Run(ctx, conform.Asking{Command: []string{os.Args[0]}, Vectors: vectors[max(0, len(vectors)-most):], Bounds: bounds})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestBadAnswerers(t *testing.T) {
	for _, c := range []struct {
		how, fault                string
		right, wrong, notAnswered int
	}{
		{"library", "", 12, 0, 0},
		{"dies", "died", 0, 0, 12},
		{"hangs", "stopped", 0, 0, 12},
		{"long", "stopped", 0, 0, 12},
		{"floods", "unknown id", 0, 0, 12},
		{"cannot", "", 0, 0, 12},
		{"twice", "answered twice", 11, 1, 0},
		{"unknown", "unknown id", 12, 0, 0},
		{"garbage", "garbage", 12, 0, 0},
		{"half", "left early", 3, 0, 9},
		{"does not leave", "stopped", 12, 0, 0},
	} {
		t.Run(c.how, func(t *testing.T) {
			r := asked(t, t.Context(), c.how, "assign", 12)
			if n := r.Topics[0]; n.Right != c.right || n.Wrong != c.wrong || n.NotAnswered != c.notAnswered {
				t.Errorf("right, wrong, not answered: %d, %d, %d; want %d, %d, %d", n.Right, n.Wrong, n.NotAnswered, c.right, c.wrong, c.notAnswered)
			}
			if r.Passed != (c.how == "library") {
				t.Errorf("passed: %v", r.Passed)
			}
			switch {
			case c.fault == "" && len(r.Faults) > 0:
				t.Errorf("faults: %v", r.Faults)
			case c.fault != "" && (len(r.Faults) == 0 || r.Faults[0].Kind != c.fault):
				t.Errorf("faults %v, want %q", r.Faults, c.fault)
			}
			var text strings.Builder
			if err := r.Text(&text); err != nil || c.fault != "" && !strings.Contains(text.String(), c.fault) {
				t.Errorf("the report does not say %q: %v\n%s", c.fault, err, text.String())
			}
		})
	}
}

// TestMutant: of a program that is off by one in the last digit, most numbers are found to be wrong.
func TestMutant(t *testing.T) {
	r := asked(t, t.Context(), "mutant", "isofit", 100)
	if n := r.Topics[0]; n.Right > 0 || n.Wrong != 100 || r.Passed {
		t.Errorf("%+v, passed %v", n, r.Passed)
	}
	for _, w := range r.Wrong {
		if w.Source == "" || w.Harm == "" || w.Got == "" || w.Why == "" {
			t.Fatalf("a wrong answer without all that is to be said of it: %+v", w)
		}
	}
}

// TestReadsLate: what a program said before it ended counts, however late it is read.
func TestReadsLate(t *testing.T) {
	t.Setenv("CONFORM_ANSWERER", "wide")
	vectors, err := conform.Vectors("assign")
	if err != nil {
		t.Fatal(err)
	}
	vectors = vectors[:12]
	r, err := conform.Run(t.Context(), conform.Asking{
		Command: []string{os.Args[0]}, Vectors: vectors, Bounds: conform.Bounds{Silence: thorough.Patience, Whole: thorough.Patience, Leaving: thorough.Patience},
		Progress: func(n int) {
			if n == 1 { // all the others are written meanwhile, and more of them than any buffer of a reader takes
				time.Sleep(3 * time.Second)
			}
		},
	})
	if err != nil || !r.Passed {
		t.Errorf("%+v, %v", r, err)
	}
}

// TestInterrupted: what there is, is reported.
func TestInterrupted(t *testing.T) {
	ctx, stop := context.WithTimeout(t.Context(), 300*time.Millisecond)
	defer stop()
	if r := asked(t, ctx, "waits", "plan", 5); !r.Interrupted || r.Passed || r.Topics[0].NotAnswered != 5 {
		t.Errorf("%+v", r)
	}
	stop() // and what ended before anything was asked
	if r := asked(t, ctx, "library", "plan", 5); !r.Interrupted || r.Passed || r.Topics[0].NotAnswered != 5 {
		t.Errorf("%+v", r)
	}
}
