package evidence

import (
	"errors"
	"fmt"

	"example.com/closefit/torque"
	"example.com/closefit/torque/examination"
	"example.com/closefit/units"
)

// examinationChecks are the checks of package examination.
func examinationChecks() map[string]Check {
	return map[string]Check{"neighbour": neighbourPreload}
}

// neighbourPreload is the preload of the first of so many bolts on one part when all have been pulled
// to the same preload once, in their order.
func neighbourPreload(r *Row) (Result, error) {
	joint, errJoint := jointOf(r)
	count, errCount := r.Int("bolts")
	share, errShare := Parse(r, "share", units.Parse[units.RatioInterval])
	to, errTo := Parse(r, "to", units.ParseForce)
	if err := errors.Join(errJoint, errCount, errShare, errTo, r.ExpectUnit("N")); err != nil {
		return Result{}, err
	}
	var names []string
	var pulls []examination.BoltPull
	for i := range count {
		names = append(names, fmt.Sprint(i+1))
		pulls = append(pulls, examination.BoltPull{Bolt: names[i], To: to})
	}
	i, err := examination.Neighbours{Joint: joint, Pattern: torque.Row(names...), Share: share}.Tighten(pulls...)
	if err != nil {
		return Result{}, err
	}
	return Float64(i.Preloads[count-1][0].Mid().Float64(units.Newton)), nil
}
