package evidence

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// A property stands for arithmetic that needs no source: what must hold for every input.
type property struct {
	pkg   string // its import path within the module
	holds string
	tests []string // the tests that draw inputs and look whether it does
}

// properties are written into EVIDENCE.md; the test looks whether their tests are there.
var properties = []property{
	{"units", "arithmetic on intervals holds every point; a conversion comes back; order is total", []string{"TestIntervalsHoldEveryPoint", "TestThereAndBack", "TestCmpIsATotalOrder"}},
	{"units/measure", "a verdict is that of every point of the reading; a narrower reading keeps what was proven; the true size lies in the reading", []string{"TestJudgeIsTheVerdictOfEveryPoint", "TestANarrowerReadingKeepsWhatWasProven", "TestStationsHoldTheTrueSizes", "TestAStripHoldsTheGapThatIsThere"}},
	{"clearance", "a fit holds every choice of its parts; a remedy that was applied is proven inside", []string{"TestBearingHoldsEveryChoiceOfPoints", "TestRemediesAppliedAreProvenInside", "TestFiledAsToldIsInside"}},
	{"clearance/isofit", "holes mirror shafts where the rule says so; limits widen with the grade; the kind of fit agrees with the limits", []string{"TestHolesMirrorShafts", "TestLimitsWidenWithGrade", "TestKindAgreesWithLimits"}},
	{"clearance/stack", "the tails add up to one; the order of the parts changes nothing; a density integrates to the distribution; inversion and lattice agree", []string{"TestTailsComplement", "TestOrderChangesNothing", "TestDensityIntegratesToBelow", "TestInversionAgreesWithLattices"}},
	{"clearance/film", "load rises with eccentricity; flow balances; the fast solver agrees with a slow one", []string{"TestLoadRisesWithEccentricity", "TestFlowBalances", "TestAgainstSlowSolver"}},
	{"grading", "the choice is the best of every choice; fits are proven inside; another name of a grade changes nothing", []string{"TestChooseAgainstEveryChoice", "TestFitsAreProvenInside", "TestRenamingGradesChangesNothing"}},
	{"grading/purchase", "the purchase is the cheapest of every purchase; an altered proof proves nothing false", []string{"TestCheapestAgainstEveryPurchase", "TestAlteredProofsProveNothingFalse"}},
	{"fasteners", "limits leave room between bolt and nut; the load of a joint balances, for every pair of inputs", []string{"TestLimitsLeaveRoom", "TestJointUnderAgainstBalance", "TestJointUnderHoldsEveryPair"}},
	{"torque", "each bolt is tightened once at each stage; an order is an arrangement of the bolts", []string{"TestEachBoltAtEachStageOnce", "TestOrdersAreArrangements"}},
	{"torque/ledger", "the ledger does what a plain model of it does", []string{"TestAsThePlainModel"}},
	{"torque/preload", "a forecast holds every case within its inputs; preload rises with torque; torque and preload are inverse", []string{"TestForecastHoldsEveryCase", "TestPreloadIsMonotonic", "TestTorqueOfPreloadOfTorque"}},
	{"torque/examination", "what is expected of each pull holds two bolts under one cap, whatever they are within their ranges; what is left is never more than the last stage gives", []string{"TestExpectHoldsTwoBolts", "TestLeft"}},
}

func writeProperties(b *bytes.Buffer) {
	b.WriteString("\n## What needs no source\n\nArithmetic is shown by properties that hold for every input drawn or tried, not by values. The test of the\n" +
		"evidence looks whether the tests named here exist.\n\n| Package | Property | Tests |\n|---|---|---|\n")
	for _, p := range properties {
		fmt.Fprintf(b, "| %s | %s | %s |\n", p.pkg, p.holds, strings.Join(p.tests, ", "))
	}
}

// CheckProperties returns an error if a test that stands for a property is not in its
// package, whose folder lies below root.
func CheckProperties(root string) error {
	for _, p := range properties {
		files, err := filepath.Glob(filepath.Join(root, p.pkg, "*_test.go"))
		if err != nil {
			return err
		}
		there := map[string]bool{}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				return err
			}
			for _, m := range testName.FindAllSubmatch(text, -1) {
				there[string(m[1])] = true
			}
		}
		for _, name := range p.tests {
			if !there[name] {
				return fmt.Errorf("%s has no test %s, which stands for a property: %s", p.pkg, name, p.holds)
			}
		}
	}
	return nil
}

var testName = regexp.MustCompile(`(?m)^func (Test\w+)\(`)
