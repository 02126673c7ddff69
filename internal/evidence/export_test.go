package evidence

// Fixture is the made-up package that testdata/fixture.golden.md is rendered from.
func Fixture() Package { return fixture() }
