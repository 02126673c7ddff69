package units

// Written writes q in the unit for a working: with the unit's symbol and no more
// digits than it has; what has more than six places is rounded half to even and
// marked so, "≈0.333333 mm".
func (q Quantity[D]) Written(u Unit[D]) string { return withSymbol(q.number(u), u) }

// WrittenBare is Written without the symbol, for the middle of a formula.
func (q Quantity[D]) WrittenBare(u Unit[D]) string { return q.number(u) }

// Written writes a in the unit for a working: "0.022..0.038 mm", ">= 0.102 mm";
// an interval without bounds, and the empty one, read "not known". Limits that are
// shown to be kept are rounded by Inward, readings by Outward.
func (a Interval[D]) Written(u Unit[D]) string {
	switch {
	case a.IsEmpty() || !a.HasLo() && !a.HasHi():
		return "not known"
	case !a.HasLo():
		return "<= " + a.Hi().Written(u)
	case !a.HasHi():
		return ">= " + a.Lo().Written(u)
	case a.IsPoint():
		return a.Lo().Written(u)
	}
	return a.Lo().number(u) + ".." + a.Hi().Written(u)
}

func withSymbol[D Dimension](number string, u Unit[D]) string {
	if symbol := u.String(); symbol != "" {
		return number + " " + symbol
	}
	return number
}
