package evidence

import "path/filepath"

// Packages returns the library packages that have evidence, in the order of
// EVIDENCE.md, with the checks that compute their rows. root is the folder of the
// module. The checks of a package stand in the file named after it: unitsChecks in
// units.go, and so on.
func Packages(root string) []Package {
	table := []struct {
		name   string
		checks map[string]Check
	}{
		{"units", unitsChecks()},
		{"units/measure", measureChecks()},
		{"clearance", clearanceChecks()},
		{"clearance/isofit", isofitChecks()},
		{"clearance/stack", stackChecks()},
		{"grading", gradingChecks()},
		{"fasteners", fastenersChecks()},
		{"torque", torqueChecks()},
		{"torque/preload", preloadChecks()},
	}
	var packages []Package
	for _, p := range table {
		packages = append(packages, Package{
			Name: p.name, Dir: filepath.Join(root, p.name, "testdata", "evidence"), Checks: p.checks,
		})
	}
	return packages
}
