package job

// atPumps are the pumps of the oil, or the rotors of one that has several.
func atPumps(e *Engine) []string { return e.Pumps }

// oilLines are the lines of the oil's pump and relief valve.
func oilLines() []line {
	valve := Remedy{Stop,
		"It opens too early, and the bearings lack oil: look for dirt under its seat and a tired spring, or fit another.",
		"It opens too late, and the pump may break: look whether it sticks, or fit another spring."}
	worn := Remedy{Order, "Look whether the rotor is the right one, and clean.", "The pump is worn and loses pressure: fit another."}
	return []line{
		{group: "relief valve", quantity: "opening pressure", where: atOnce("relief valve"), form: pressure, before: Final, kinds: []string{pressureGauge},
			how: "raise the pressure in steps: the highest at which it is shut, the lowest at which it is open", remedy: valve},
		{group: "oil pump", quantity: "body bore", where: atPumps, form: plain, before: Choose, kinds: boreKinds, how: "where the outer rotor runs"},
		{group: "oil pump", quantity: "rotor diameter", where: atPumps, form: plain, before: Choose, kinds: sizeKinds, how: "of the outer rotor, or over the tips of a gear"},
		{group: "oil pump", quantity: "body clearance", where: atPumps, form: direct, before: Final, kinds: gapKinds,
			terms: []string{"oil pump body bore", "oil pump rotor diameter"}, fit: shaftIn("body clearance"),
			how: "rotor pushed to one side, blade between it and the body at the other; or the body's bore less the rotor", remedy: worn},
		{group: "oil pump", quantity: "tip clearance", where: atPumps, form: direct, before: Final, kinds: gapKinds, how: "blade between the tips of the inner and the outer rotor", remedy: worn},
		{group: "oil pump", quantity: "body depth", where: atPumps, form: plain, before: Choose, kinds: []string{"depth gauge", "caliper", "gauge"}, how: "from the face that carries the cover"},
		{group: "oil pump", quantity: "rotor height", where: atPumps, form: plain, before: Choose, kinds: sizeKinds, how: "between the faces of the rotor"},
		{group: "oil pump", quantity: "end clearance", where: atPumps, form: direct, before: Final, kinds: gapKinds,
			terms: []string{"oil pump body depth", "oil pump rotor height"}, fit: shaftIn("end clearance"),
			how: "straight edge across the body, blade between it and the rotor; or the body's depth less the rotor's height", remedy: worn},
	}
}
