package preload

import (
	"fmt"
	"math/big"
	"strings"

	"example.com/closefit/units"
)

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
// Each swing is read anew, so that the doubt of a reading counts once for each.
//
// The error is of kind ErrImpossible for a turn, a swing or a step not above zero, a swing smaller
// than a step, more than 1000 swings, or more than a million steps.
func Swings(turn, most, step units.Angle) ([]units.Angle, error) {
	for _, a := range []struct {
		name  string
		angle units.Angle
	}{{"turn", turn}, {"swing", most}, {"step", step}} {
		if a.angle.Sign() <= 0 {
			return nil, impossible(a.name, a.angle.String(), "write an angle above zero")
		}
	}
	each := wholeSteps(most, step) // steps of the largest swing
	if each.Sign() == 0 {
		return nil, impossible("swing", fmt.Sprintf("%v in steps of %v", most, step), "take a swing of at least one step, or finer steps")
	}
	largest := step.MulRat(new(big.Rat).SetInt(each))
	if new(big.Rat).Quo(turn.Rat(units.Degree), largest.Rat(units.Degree)).Cmp(big.NewRat(maxSwings, 1)) > 0 {
		return nil, impossible("turn", fmt.Sprintf("%v in swings of %v", turn, largest), fmt.Sprintf("take at most %d swings", maxSwings))
	}

	if turn.Cmp(step.MulInt(maxSteps)) > 0 {
		return nil, impossible("turn", fmt.Sprintf("%v in steps of %v", turn, step), "take steps that can be read on the tool")
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

// SwingInstructions returns how to give a turn by paint marks or by an angle gauge, swing by
// swing. points is the number of points of the bolt's head, of which a hexagon has six and a
// twelve-point head twelve: 90° is one and a half flats of a hexagon. It panics for fewer
// than one.
func SwingInstructions(swings []units.Angle, points int) []string {
	if points < 1 {
		panic("preload: a head with fewer than one point; give 6 or 12")
	}
	lines := []string{"mark the bolt's head and the part beside it in one line of paint before the first swing"}
	var turned units.Angle
	for i, s := range swings {
		turned = turned.Add(s)
		line := fmt.Sprintf("swing %d of %d: turn %v", i+1, len(swings), s)
		if i > 0 {
			line += fmt.Sprintf(" further, to %v in all", turned)
		}
		lines = append(lines, fmt.Sprintf("%s (%s of the head's %d points)", line, mixed(s.MulInt(int64(points)).Rat(units.Turn)), points))
	}
	return append(lines, "the paint must now stand at the whole turn; if nobody is sure how far a bolt has turned, do not turn it again: replace it, as the engine maker's manual says")
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
