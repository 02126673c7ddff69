package examination_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"example.com/closefit/torque"
	"example.com/closefit/torque/examination"
	"example.com/closefit/torque/preload"
	"example.com/closefit/units"
)

// Each action is the pull of a preload.Course that it stands for, with its tolerance if it has one.
func TestFollowIsACourse(t *testing.T) {
	bolt := capBolt(t).Bolt
	by := units.MustParseAngle("30°")
	got, err := examination.Follow(bolt, tighten("19..21 N·m"), torque.Do(torque.Tighten{To: units.MustParseTorque("30 N·m")}), turn("28..32°"), torque.Do(torque.Turn{By: by}), torque.Do(torque.BackOff{By: by}))
	if err != nil {
		t.Fatal(err)
	}
	c, err := bolt.Course()
	if err != nil {
		t.Fatal(err)
	}
	var want []preload.State
	took := func(s preload.State, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		want = append(want, s)
	}
	took(c.Tighten(units.MustParse[units.TorqueInterval]("19..21 N·m")))
	took(c.Tighten(units.MustParse[units.TorqueInterval]("30 N·m")))
	took(c.Turn(units.MustParse[units.AngleInterval]("28..32°")))
	took(c.Turn(units.Exactly(by)))
	took(c.BackOff(by), nil)
	if len(got) != len(want) {
		t.Fatalf("%d states, want %d", len(got), len(want))
	}
	for i := range want {
		if !got[i].Added.Equal(want[i].Added) || !got[i].Turn.Equal(want[i].Turn) || !got[i].Torque.Equal(want[i].Torque) || !got[i].Preload.Equal(want[i].Preload) || got[i].Elastic != want[i].Elastic {
			t.Errorf("pull %d: %v, want %v", i+1, got[i], want[i])
		}
	}
}

func TestFollowErrors(t *testing.T) {
	for _, tt := range []struct {
		name  string
		pulls []torque.Action
		kind  error
		want  string
	}{
		{"a pause", []torque.Action{tighten("20 N·m"), torque.Do(torque.Wait{For: time.Minute})}, examination.ErrImpossible, "pull 2"},
		{"the zero action", []torque.Action{{}}, examination.ErrImpossible, "pull 1"},
		{"a turn first", []torque.Action{turn("20°")}, preload.ErrImpossible, "no torque before it"},
	} {
		if got, err := examination.Follow(capBolt(t).Bolt, tt.pulls...); !errors.Is(err, tt.kind) || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, %v, want %q", tt.name, got, err, tt.want)
		}
	}
	if _, err := examination.Follow(preload.YieldBolt{}, tighten("20 N·m")); !errors.Is(err, preload.ErrImpossible) {
		t.Errorf("a bolt of which nothing is known: %v", err)
	}
}
