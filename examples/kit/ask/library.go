package ask

// Library returns the questions that need the library alone, and no job.
func Library() Set {
	return Set{
		New("judge", "Judges a reading, or a sum of readings, against limits: what is proven, how probable it is, and what would settle it.", judging),
		New("assign", "Assigns shells to each location by stamped codes, by measured sizes, or by both, which are then compared.", assigning),
		New("buy", "Finds the cheapest packs that serve all needs with the stock, with the proof that nothing costs less.", buying),
		New("stack", "Adds up a tolerance stack: worst case, root sum of squares, and the probabilities of the gap.", stacking),
		New("plan", "Lays out a tightening step by step: order, torques and turns, pauses, marks, and the cautions that belong with it.", planning),
		New("convert", "Converts a quantity or an interval to another unit, exactly or rounded the way that is asked for.", conversion),
	}
}
