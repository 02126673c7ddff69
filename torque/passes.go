package torque

import "math/big"

// Repeat returns the stages, then backing off and the stages again, until they
// were done the number of times given: once is the stages alone. It panics if
// times is not above zero.
func Repeat(times int, backOff BackOff, stages ...Stage) []Stage {
	if times < 1 {
		panic("torque: Repeat needs a number of times above zero")
	}
	all := append([]Stage(nil), stages...)
	for range times - 1 {
		all = append(all, Stage{Pull: PullOf(backOff)})
		all = append(all, stages...)
	}
	return all
}

// Passes returns a stage for each share of a final torque, in percent: Passes(t, 70,
// 100, 100) goes round the bolts at 70 % and twice at the final torque, whose
// tolerance is shared likewise. It panics on a share that is not above zero.
//
// A first pass at 70 %, then the final torque until no bolt moves, is the general
// order of TM 5-3805-248-23-1, torque limits.
func Passes(final Tighten, percent ...int64) []Stage {
	var stages []Stage
	for _, share := range percent {
		if share <= 0 {
			panic("torque: Passes needs shares above zero")
		}
		stages = append(stages, Stage{Pull: PullOf(final.scaled(big.NewRat(share, 100)))})
	}
	return stages
}

// scaled returns t with its target and its tolerance times r.
func (t Tighten) scaled(r *big.Rat) Tighten {
	t.To, t.Within = t.To.MulRat(r), t.Within.MulRat(r)
	return t
}
