package torque

import "math/big"

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
	t.To = aimed(t.To, t.Within)
	t.To, t.Within = t.To.MulRat(r), t.Within.MulRat(r)
	return t
}
