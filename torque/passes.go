package torque

import "math/big"

// Passes returns a stage for each share of a final torque, in percent: Passes(t, 70,
// 100, 100) goes round the bolts at 70 % and twice at the final torque, whose
// tolerance is shared likewise. It panics on a share that is not above zero.
//
// A first pass at 70 %, then the final torque until no bolt moves, is the general
// order of TM 5-3805-248-23-1, torque limits.
//
// One share lowers a torque that a manual means for other threads than those at hand:
// Passes(t, 80) takes 20 % off. What share belongs to which threads is the manual's to say:
// TM 5-3805-248-23-1, torque limits, takes 10 % off for engine oil and 20 % off for new
// plated screws; TM 9-2320-362-14&P, appendix F, at least 30 % off for threads into
// aluminium without inserts.
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
