package ask

// Library returns the questions that need the library alone, and no job.
func Library() Set {
	return Set{
		New("judge", "Judges a reading, or a sum of readings, against limits: what is proven, how probable it is, and what would settle it.", judging),
		New("convert", "Converts a quantity or an interval to another unit, exactly or rounded the way that is asked for.", conversion),
	}
}
