package ledger

import (
	"strings"
	"testing"
)

// TestBoltsThatMayBeTurned: of all that can be read of a file, the lines that begin a step name
// their bolts: not a line that is torn before its bolt, not one of another event on a bolt that
// has the word for a name, and no bolt twice.
func TestBoltsThatMayBeTurned(t *testing.T) {
	f := &found{}
	f.ledger.data = []byte(strings.Join([]string{
		"2\tt\tbegin\t1\tbolt 1\t-\tx",
		"3\tt\tdone\t1\tbegin\t-\tx",
		"4\tt\tbegin\t2\tbolt 2\t-\tx",
		"5\tt\tbegin\t3\tbolt 1\t-\tx",
		"6\tt\tbegin\t-\t-\t-\tx",
		"7\tt\tbegin\t4",
		"8\tt\tbegin\t4\tbolt 3\t-",
		"9\tt\tbegin\t4\tbolt 9",
	}, "\n"))
	f.ledger.lines = 9
	if got := f.mayBeTurned(nil); !strings.HasPrefix(got, "bolt 1, bolt 2, bolt 3, ") || strings.Contains(got, "begin") || strings.Contains(got, "bolt 9") || strings.Contains(got, ", ,") {
		t.Errorf("%q", got)
	}
}

// TestTornLines: what a crash may leave of one more line, and what it cannot.
func TestTornLines(t *testing.T) {
	zeros := string(make([]byte, 64))
	for rest, torn := range map[string]bool{
		"": false, "5\tt\tbeg": true, "x": true, "\n": false, "5\tt\tbegin\n": false, "\nx": false, "5\tt\nbegin": false,
		"\x00\x00\n": true, "5\tt" + zeros + "\n": true, "5\tt" + zeros[1:] + "\n": false, zeros: true, zeros[1:] + "\n": true,
	} {
		if got := isTorn([]byte(rest)); got != torn {
			t.Errorf("%q: torn %v, want %v", rest, got, torn)
		}
	}
}

// TestOutOfTurn: whoever begins another step is told which one comes first.
func TestOutOfTurn(t *testing.T) {
	s := newScene(t, testPlan(t, "gate", 2), 2)
	defer s.l.Close()
	err := s.l.Begin(5)
	if err == nil || !strings.Contains(err.Error(), "it is not its turn") || !strings.Contains(err.Error(), "do step 3 first: 3. bolt 1: tighten to 30 N·m") {
		t.Error(err)
	}
}
