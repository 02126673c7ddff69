package units

// dimensions returns every dimension, for naming the one that a wrong unit
// belongs to.
func dimensions() []*dimension {
	return []*dimension{
		lengths(), angles(), torques(), forces(), pressures(), temperatures(), temperatureDifferences(),
		rotations(), viscosities(), areas(), stiffnesses(),
	}
}
