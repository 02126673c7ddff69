package torque

import "math/big"

// Reduced returns t with its target and its tolerance lower by a share, in percent: what
// a manual asks for where its torque is meant for other threads than those at hand. It
// panics if the share is below 0 or not below 100.
//
//	T' = T × (1 - p/100)
//
// T is the torque of the table, T' the one to set, p the share in percent. What share
// belongs to which threads is the manual's to say: TM 5-3805-248-23-1, torque limits,
// takes 10 % off for engine oil and 20 % off for new plated screws; TM 9-2320-362-14&P,
// appendix F, at least 30 % off for threads into aluminium without inserts.
func (t Tighten) Reduced(percent int64) Tighten {
	if percent < 0 || percent >= 100 {
		panic("torque: Reduced needs a share from 0 to 99 percent")
	}
	return t.scaled(big.NewRat(100-percent, 100))
}
