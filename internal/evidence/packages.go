package evidence

import "path/filepath"

// Packages returns the library packages that have evidence, in the order of
// EVIDENCE.md, with the checks that compute their rows and the names of those that only
// read a table. root is the folder of the module. The checks of a package stand in the
// file named after it: unitsChecks in units.go, and so on.
func Packages(root string) []Package {
	table := []struct {
		name    string
		checks  map[string]Check
		lookups []string
	}{
		{"units", unitsChecks(), []string{"fineness"}},
		{"units/measure", measureChecks(), nil},
		{"clearance", clearanceChecks(), nil},
		{"clearance/isofit", isofitChecks(), []string{"tolerance"}},
		{"clearance/stack", stackChecks(), nil},
		{"clearance/film", filmChecks(), []string{"j300"}},
		{"grading", gradingChecks(), nil},
		{"fasteners", fastenersChecks(), []string{"series", "stress_area_tabulated", "strength", "grade", "hardness"}},
		{"torque", torqueChecks(), nil},
		{"torque/preload", preloadChecks(), []string{"nut_factor", "friction_class", "method", "accuracy", "embedding", "key_torque"}},
		{"torque/examination", examinationChecks(), nil},
	}
	var packages []Package
	for _, p := range table {
		packages = append(packages, Package{
			Name: p.name, Dir: filepath.Join(root, p.name, "testdata", "evidence"), Checks: p.checks, Lookups: p.lookups,
		})
	}
	return packages
}
