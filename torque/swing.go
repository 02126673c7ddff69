package torque

import (
	"errors"
	"fmt"
	"math/big"
	"strings"

	"example.com/closefit/units"
)

// ErrSwing is the kind of error for a turn that cannot be split as asked. A *SwingError
// wraps it.
var ErrSwing = errors.New("not a possible swing")

// A SwingError says why a turn cannot be split and what to write instead.
type SwingError struct {
	What string
	Fix  string
}

func (e *SwingError) Error() string { return fmt.Sprintf("%s: %v; %s", e.What, ErrSwing, e.Fix) }

// Unwrap returns ErrSwing.
func (e *SwingError) Unwrap() error { return ErrSwing }

// maxSwings bounds how many swings a turn is split into, and maxSteps how many steps it has.
const (
	maxSwings = 1000
	maxSteps  = 1_000_000
)

// Swings splits a turn into swings of at most so much, each a whole number of steps, as
// even as that allows, larger ones first. They add up to the turn exactly; if the turn is
// no whole number of steps, the last swing takes the rest.
//
//	Swings(90°, 70°, 5°)   45°, 45°
//	Swings(100°, 40°, 5°)  35°, 35°, 30°
//
// The step is what the tool can be read to, or what the head lets it be set over: 30° for a
// twelve-point socket, 60° for an open wrench on a hexagon.
//
// The error wraps ErrSwing for a turn, a swing or a step not above zero, a swing smaller
// than a step, more than 1000 swings, or more than a million steps.
func Swings(turn, most, step units.Angle) ([]units.Angle, error) {
	for _, a := range []struct {
		name  string
		angle units.Angle
	}{{"turn", turn}, {"swing", most}, {"step", step}} {
		if a.angle.Sign() <= 0 {
			return nil, &SwingError{What: fmt.Sprintf("a %s of %v", a.name, a.angle), Fix: "write an angle above zero"}
		}
	}
	each := wholeSteps(most, step) // steps of the largest swing
	if each.Sign() == 0 {
		return nil, &SwingError{What: fmt.Sprintf("a swing of %v in steps of %v", most, step), Fix: "take a swing of at least one step, or finer steps"}
	}
	largest := step.MulRat(new(big.Rat).SetInt(each))
	if new(big.Rat).Quo(turn.Rat(units.Degree), largest.Rat(units.Degree)).Cmp(big.NewRat(maxSwings, 1)) > 0 {
		return nil, &SwingError{What: fmt.Sprintf("a turn of %v in swings of %v", turn, largest), Fix: fmt.Sprintf("take at most %d swings", maxSwings)}
	}

	if turn.Cmp(step.MulInt(maxSteps)) > 0 {
		return nil, &SwingError{What: fmt.Sprintf("a turn of %v in steps of %v", turn, step), Fix: "take steps that can be read on the tool"}
	}

	n := ceiling(turn.Ratio(largest))
	steps := wholeSteps(turn, step).Int64()
	rest := turn.Sub(step.MulInt(steps))
	swings := make([]units.Angle, n)
	for i := range swings {
		count := steps / n
		if int64(i) < steps%n {
			count++
		}
		swings[i] = step.MulInt(count)
	}
	// The last swing is one of the smallest, so that with the rest, less than a step, it is
	// no larger than the largest.
	swings[n-1] = swings[n-1].Add(rest)
	return swings, nil
}

// wholeSteps returns how many whole steps fit into an angle.
func wholeSteps(a, step units.Angle) *big.Int {
	r := a.Ratio(step)
	return new(big.Int).Quo(r.Num(), r.Denom())
}

// ceiling returns the smallest whole number not below r > 0.
func ceiling(r *big.Rat) int64 {
	up := new(big.Int).Add(r.Num(), r.Denom())
	up.Sub(up, big.NewInt(1))
	return up.Quo(up, r.Denom()).Int64()
}

// Marks returns where the swings end, counted from where the turn began: the angles at
// which to mark the part beside the bolt. The last is the whole turn, exactly.
func Marks(swings []units.Angle) []units.Angle {
	marks := make([]units.Angle, len(swings))
	var at units.Angle
	for i, s := range swings {
		at = at.Add(s)
		marks[i] = at
	}
	return marks
}

// Points returns a turn as a number of points of the bolt's head, of which a hexagon has
// six and a twelve-point head twelve: 90° is one and a half flats of a hexagon. It panics
// for fewer than one point.
func Points(turn units.Angle, points int) *big.Rat {
	if points < 1 {
		panic("torque: a head with fewer than one point; give 6 or 12")
	}
	turns := turn.Rat(units.Turn)
	return turns.Mul(turns, new(big.Rat).SetInt64(int64(points)))
}

// A TurnMethod is how a turn is measured at the bolt.
type TurnMethod struct {
	Name string
	// Reading is how far the turn may lie from what was read, to both sides. The user
	// gives it: a gauge's graduation, or what the eye can tell on a paint mark.
	Reading units.Angle
	Step    units.Angle // the finest swing that can be read
}

// Turned returns what the bolt has turned when a turn was read in so many swings: each
// swing is read anew.
func (m TurnMethod) Turned(turn units.Angle, swings int) units.AngleInterval {
	return units.PlusMinus(turn, m.Reading.MulInt(int64(swings)))
}

// Instructions returns how to give a turn by paint marks or by an angle gauge, swing by
// swing. head is the number of points of the bolt's head.
func (m TurnMethod) Instructions(swings []units.Angle, head int) []string {
	var lines []string
	marks := Marks(swings)
	for i, s := range swings {
		line := fmt.Sprintf("swing %d of %d: turn %v", i+1, len(swings), s)
		if i > 0 {
			line += fmt.Sprintf(" further, to %v in all", marks[i])
		}
		lines = append(lines, fmt.Sprintf("%s (%s of the head's %d points)", line, mixed(Points(s, head)), head))
	}
	first := "mark the bolt's head and the part beside it in one line of paint before the first swing"
	last := "the paint must now stand at the whole turn; if nobody is sure how far a bolt has turned, do not turn it again: replace it, as the engine maker's manual says"
	return append(append([]string{first}, lines...), last)
}

// mixed returns a number as a whole and a fraction: "1 1/2".
func mixed(r *big.Rat) string {
	whole := new(big.Int).Quo(r.Num(), r.Denom())
	rest := new(big.Rat).Sub(r, new(big.Rat).SetInt(whole))
	var parts []string
	if whole.Sign() != 0 || rest.Sign() == 0 {
		parts = append(parts, whole.String())
	}
	if rest.Sign() != 0 {
		parts = append(parts, rest.RatString())
	}
	return strings.Join(parts, " ")
}
