package benchmarks

// A metric is one number that a benchmark, or a test that measures in a browser, prints.
type metric struct {
	name string // the benchmark's name, without "Benchmark" and the number of cores; or the test's
	unit string // as it prints it; of a test, the text before the number, to the first digit
}

// A row is one line of BENCHMARKS.md.
type row struct {
	what    string
	ours    metric
	against metric // whose number ours is divided by, in the same run; none where ours is a ratio already, or stands alone
	shown   string // the unit that is shown; empty: that of ours
	per     float64
	aim     aim
}

// An aim is a bound that ours, or the ratio, shall keep. The zero aim is none.
type aim struct {
	bound float64
	least bool // at least; otherwise at most
}

func atMost(bound float64) aim  { return aim{bound: bound} }
func atLeast(bound float64) aim { return aim{bound, true} }

// A section is one package's table.
type section struct {
	folder string
	says   string   // what stands below the heading
	time   string   // -benchtime; empty: the go command's own
	test   string   // a test in place of benchmarks
	env    []string // what the test is asked by
	args   []string // the same, as options of its own
	rows   []row
	notes  []string
}

const (
	millionth  = 1e-6
	thousandth = 1e-3
)

func sections() []section {
	return []section{
		{
			folder: "units",
			says:   "What exactness costs: intervals beside the same work in `shopspring/decimal`, and beside overflow-checked `int64` written by hand.",
			rows: []row{
				{"bearing clearance and its judgement on intervals, against decimal", metric{"JudgementAgainstDecimal", "times-faster-than-decimal"}, metric{}, "times faster", 1, atLeast(12)},
				{"the same against hand-written int64, which knows \"not measured\" too", metric{"JudgementAgainstInt64", "times-slower-than-int64"}, metric{}, "times slower", 1, atMost(2.5)},
				{"`ParseLength(\"60.012 mm\")` against `decimal.NewFromString`", metric{"Parse", "times-faster-than-decimal"}, metric{}, "times faster", 1, atLeast(1)},
				{"`Format` to 3 places against `StringFixed`", metric{"Print", "times-faster-than-decimal"}, metric{}, "times faster", 1, atLeast(1)},
				{"a quantity to JSON, against decimal", metric{"MarshalJSON", "times-faster-than-decimal"}, metric{}, "times faster", 1, aim{}},
				{"a quantity from JSON, against decimal", metric{"UnmarshalJSON", "times-faster-than-decimal"}, metric{}, "times faster", 1, aim{}},
				{"the slowest parser on the worst of the hostile texts", metric{"HostileText", "µs-slowest"}, metric{}, "µs", 1, atMost(1000)},
			},
			notes: []string{"`TestAllocations` and `TestHostileTextIsCheap` assert the allocations on every run of the tests; times are measured only here."},
		},
		{
			folder: "units/measure",
			rows: []row{
				{"a location judged from readings that keep their sources, against the bare decimal expression", metric{"Location/readings_to_verdict", "ns/op"}, metric{"Location/decimal_expression_alone", "ns/op"}, "times the time", 1, atMost(1)},
			},
		},
		{
			folder: "clearance",
			rows: []row{
				{"the same by way of a fit with its conditions", metric{"Location/readings_to_verdict", "ns/op"}, metric{"Location/decimal_expression_alone", "ns/op"}, "times the time", 1, atMost(1)},
				{"the same against the expression with both bounds of each size, which has no sources either", metric{"Location/readings_to_verdict", "ns/op"}, metric{"Location/decimal_expression_with_both_bounds", "ns/op"}, "times the time", 1, aim{}},
			},
			notes: []string{"The bare expression has no uncertainty, no sources and no limits: what the difference buys are the sources."},
		},
		{
			folder: "clearance/stack",
			time:   "10x",
			rows: []row{
				{"the lattice's estimate of ten normal contributors, tail near 10⁻⁹: error", metric{"Convolution/normal", "%-off"}, metric{}, "%", 1, atMost(1)},
				{"the same: time", metric{"Convolution/normal", "ns/op"}, metric{}, "ms", millionth, atMost(10)},
				{"ten uniform contributors: error", metric{"Convolution/irwin-hall", "%-off"}, metric{}, "%", 1, atMost(1)},
				{"the same: time", metric{"Convolution/irwin-hall", "ns/op"}, metric{}, "ms", millionth, atMost(10)},
				{"a mixture of four parts with a proven error, against the lattice", metric{"Mixture", "×lattices"}, metric{}, "times faster", 1, aim{}},
				{"Monte Carlo of a linear stack of five, against the bare loop over `NormFloat64`", metric{"SimulateAgainstBareLoop", "×bare-loop"}, metric{}, "of its speed", 1, atLeast(0.75)},
				{"two cores against one", metric{"SimulateTwoCores", "×one-core"}, metric{}, "times faster", 1, atLeast(1.8)},
				{"two bare loops at once against one, for comparison", metric{"SimulateTwoCores", "×one-core-bare-loops"}, metric{}, "times faster", 1, aim{}},
				{"against numpy, vectorised, on one core", metric{"SimulateAgainstNumpy", "×numpy"}, metric{}, "times faster", 1, atLeast(1.5)},
				{"memory of 100 million trials, the whole process", metric{"SimulateMemory", "MiB-from-system"}, metric{}, "MiB", 1, atMost(61)},
			},
		},
		{
			folder: "clearance/film",
			time:   "10x",
			rows: []row{
				{"a working point with its heat, from load to film", metric{"Work/plain", "µs/best"}, metric{}, "ms", thousandth, atMost(5)},
				{"the same with a circumferential groove", metric{"Work/groove", "µs/best"}, metric{}, "ms", thousandth, atMost(5)},
				{"the same with pockets", metric{"Work/pocket", "µs/best"}, metric{}, "ms", thousandth, atMost(5)},
				{"a sweep of 60 points", metric{"Sweep/plain", "ms/best"}, metric{}, "ms", 1, atMost(250)},
				{"the same on one core", metric{"Sweep/plain,_on_one", "ms/best"}, metric{}, "ms", 1, aim{}},
				{"the same with a groove", metric{"Sweep/groove", "ms/best"}, metric{}, "ms", 1, atMost(250)},
				{"an orbit of 720 steps, short-bearing mobility", metric{"Orbit/short", "µs/best"}, metric{}, "ms", thousandth, atMost(20)},
				{"the same against scipy's `solve_ivp` with the same right side", metric{"Orbit/short", "×scipy"}, metric{}, "times faster", 1, aim{}},
				{"an orbit of 720 steps, mobility of finite width", metric{"Orbit/finite", "µs/best"}, metric{}, "ms", thousandth, atMost(20)},
				{"cost of an unknown on 512 × 64 against 64 × 8", metric{"Grid/512x64", "ns/unknown"}, metric{"Grid/64x8", "ns/unknown"}, "times", 1, atMost(1.2)},
				{"a load within 0.1 %, each on the coarsest grids that reach it, against scipy's direct sparse solver", metric{"AgainstScipy", "×scipy"}, metric{}, "times faster", 1, atLeast(20)},
			},
		},
		{
			folder: "grading",
			time:   "1x",
			rows: []row{
				{"the cheapest purchase: 10 parts, 12 packs of mixed make-up, 200 random cases: median", metric{"Buy/parts=10/packs=12", "median-ms"}, metric{}, "ms", 1, atMost(20)},
				{"the same: worst", metric{"Buy/parts=10/packs=12", "worst-ms"}, metric{}, "ms", 1, atMost(1000)},
				{"20 parts and 24 packs: median", metric{"Buy/parts=20/packs=24", "median-ms"}, metric{}, "ms", 1, aim{}},
				{"the same: worst", metric{"Buy/parts=20/packs=24", "worst-ms"}, metric{}, "ms", 1, atMost(1000)},
				{"against trying every purchase", metric{"BuyAgainstEveryPurchase", "times-faster"}, metric{}, "times faster", 1, aim{}},
				{"a fleet of 60 locations bought at once: median", metric{"BuyFleet", "median-ms"}, metric{}, "ms", 1, atMost(50)},
				{"selection and purchase at once, 7 mains of 2 halves, 5 grades, 8 packs: median", metric{"Choose/mains=7/grades=5/packs=8", "median-ms"}, metric{}, "ms", 1, atMost(200)},
				{"the same of sets and singles", metric{"ChooseSets", "median-ms"}, metric{}, "ms", 1, atMost(200)},
				{"the same for 60 mains, some of them alike: median", metric{"ChooseFleet", "median-ms"}, metric{}, "ms", 1, atMost(1000)},
				{"the same: worst", metric{"ChooseFleet", "worst-ms"}, metric{}, "ms", 1, atMost(1000)},
			},
		},
		{
			folder: "grading/purchase",
			rows: []row{
				{"7 grades of 13 each", metric{"HardOrders/7_grades,_13_each", "ns/op"}, metric{}, "ms", millionth, atMost(20)},
				{"40 like packs with limits", metric{"HardOrders/40_like_packs_with_limits", "ns/op"}, metric{}, "ms", millionth, atMost(20)},
				{"one part, 100,000 wanted", metric{"HardOrders/one_part,_100,000", "ns/op"}, metric{}, "ms", millionth, atMost(20)},
				{"60 locations, 5 grades, packs of 2, 4 and 10", metric{"Grades", "ns/op"}, metric{}, "ms", millionth, atMost(50)},
				{"the plan for 60 mains, no two alike: median", metric{"Choices", "median-ms"}, metric{}, "ms", 1, atMost(1000)},
				{"the same: a first answer with its gap", metric{"Choices", "first-ms"}, metric{}, "ms", 1, atMost(100)},
			},
		},
		{
			folder: "torque",
			rows: []row{
				{"a plan for 200 bolts in 4 stages, inside out, names checked", metric{"NewPlan/inside_out,_200_bolts,_4_stages", "ns/op"}, metric{}, "ms", millionth, atMost(1)},
			},
		},
		{
			folder: "torque/ledger",
			rows: []row{
				{"a ledger of 100,000 steps opened, its witness compared", metric{"OpenLedger/100000_steps", "ns/op"}, metric{}, "ms", millionth, atMost(200)},
				{"the same against reading both files and counting their lines", metric{"OpenLedger/100000_steps", "ns/op"}, metric{"OpenLedger/100000_steps,_reading_the_files_and_counting_lines", "ns/op"}, "times the time", 1, aim{}},
				{"an acknowledged record against two appends and syncs alone", metric{"Record/acknowledged", "ns/op"}, metric{"Record/two_appends_and_syncs", "ns/op"}, "times the time", 1, aim{}},
				{"the checks of a record alone", metric{"Record/the_checks_alone", "ns/op"}, metric{}, "ms", millionth, atMost(1)},
			},
		},
		{
			folder: "examples/shortblock",
			says:   "From the built program's start to the written record: a job of twelve cylinders with every reading that a job can hold. The program that only says how it is used stands beside it.",
			time:   "15x",
			rows: []row{
				{"as text", metric{"Program/text", "ns/op"}, metric{}, "ms", millionth, atMost(50)},
				{"as HTML", metric{"Program/html", "ns/op"}, metric{}, "ms", millionth, atMost(50)},
				{"as JSON, with what every verdict rests on", metric{"Program/json", "ns/op"}, metric{}, "ms", millionth, atMost(50)},
				{"`-help` alone", metric{"Program/help_alone", "ns/op"}, metric{}, "ms", millionth, aim{}},
			},
		},
		{
			folder: "examples/sheetcheck",
			says:   "Without a map, the whole program each time, its peak memory as the system counts it.",
			time:   "1x",
			rows: []row{
				{"a text file of 1,000,000 rows of 8 columns, against a Python script with csv and decimal", metric{"WithoutMap/text,_rows=1000000,_beside_Python", "s-other"}, metric{"WithoutMap/text,_rows=1000000,_beside_Python", "s-program"}, "times faster", 1, atLeast(10)},
				{"the same: memory", metric{"WithoutMap/text,_rows=1000000,_beside_Python", "MB"}, metric{}, "MB", 1, atMost(64)},
				{"a workbook of 100,000 rows of 10 columns, values alone, against the library's own streaming read", metric{"WithoutMap/workbook,_rows=100000,_formulas=false,_beside_the_streaming_read", "times"}, metric{}, "times the time", 1, atMost(1.3)},
				{"the same: memory", metric{"WithoutMap/workbook,_rows=100000,_formulas=false,_beside_the_streaming_read", "MB"}, metric{}, "MB", 1, atMost(96)},
				{"the same with 300,000 formulas, all recalculated", metric{"WithoutMap/workbook,_rows=100000,_formulas=true,_beside_the_streaming_read", "times"}, metric{}, "times the time", 1, atMost(3)},
				{"the same: memory", metric{"WithoutMap/workbook,_rows=100000,_formulas=true,_beside_the_streaming_read", "MB"}, metric{}, "MB", 1, atMost(256)},
			},
			notes: []string{"The script uses one core and the program all: the ratio is by the clock, as the owner of the sheet waits."},
		},
		{
			folder: "examples/serve",
			says:   "2,000 judgements a second, each timed from the moment at which it was to start. The program, the clients and the attackers share the processors. A wrong or missing answer fails the run.",
			test:   "TestLoad",
			args:   []string{"-load=2s"},
			rows: []row{
				{"nobody else: p99", metric{"Load", "beside nobody else, p99:"}, metric{}, "ms", 1, atMost(10)},
				{"beside 200 slow heads", metric{"Load", "beside 200 slow heads, p99:"}, metric{}, "ms", 1, atMost(10)},
				{"beside 200 slow bodies", metric{"Load", "beside 200 slow bodies, p99:"}, metric{}, "ms", 1, atMost(10)},
				{"beside huge bodies", metric{"Load", "beside huge bodies, p99:"}, metric{}, "ms", 1, atMost(10)},
				{"beside malformed bodies", metric{"Load", "beside malformed bodies, p99:"}, metric{}, "ms", 1, atMost(10)},
				{"beside bodies nested too deep", metric{"Load", "beside deep bodies, p99:"}, metric{}, "ms", 1, atMost(10)},
				{"beside 8 clients of heavy stacks", metric{"Load", "beside heavy questions, p99:"}, metric{}, "ms", 1, atMost(10)},
				{"beside 8 clients of judgements with degrees of freedom", metric{"Load", "beside judgements with degrees of freedom, p99:"}, metric{}, "ms", 1, atMost(10)},
			},
		},
		{
			folder: "examples/bench",
			says:   "In a headless browser whose processor is slowed down four times.",
			test:   "TestNumbers",
			env:    []string{"NUMBERS=1"},
			rows: []row{
				{"the page that stands alone", metric{"Numbers", "the page that stands alone:"}, metric{}, "MB", 1, atMost(6)},
				{"usable after opening, the first time", metric{"Numbers", "usable after"}, metric{}, "ms", 1, atMost(3000)},
				{"from the key of a reading to its verdict, painted: the middle of ten", metric{"Numbers", "painted, the middle of them:"}, metric{}, "ms", 1, atMost(50)},
				{"the same: the slowest", metric{"Numbers", "the slowest:"}, metric{}, "ms", 1, atMost(50)},
			},
		},
		{
			folder: "examples/kit/bench",
			says:   "The same without a browser.",
			rows: []row{
				{"one key of a reading against the whole view made again", metric{"Try/a_key", "ns/op"}, metric{"Try/the_whole_view", "ns/op"}, "times the time", 1, aim{}},
			},
		},
		{
			folder: "examples/lessons",
			says:   "In a headless browser whose processor is slowed down four times: that of the page, and not that of the worker which answers it.",
			test:   "TestRedraws",
			env:    []string{"MEASURE=stacking"},
			rows: []row{
				{"a slider of a stack of five parts: the slowest of them", metric{"Redraws", "stacking, the slowest slider:"}, metric{}, "redraws a second", 1, atLeast(30)},
			},
		},
		{
			folder: "examples/kit/ask/npm",
			says:   "One judgement of a pressure, which no instrument's degrees of freedom make dear, by the WebAssembly module and natively.",
			time:   "100x",
			rows: []row{
				{"natively", metric{"Judge", "ns/op"}, metric{}, "ms", millionth, aim{}},
				{"in node", metric{"Judge", "node-judge-ms"}, metric{}, "ms", 1, aim{}},
				{"in a browser", metric{"Judge", "chromium-judge-ms"}, metric{}, "ms", 1, aim{}},
				{"the module opened in a browser", metric{"Judge", "chromium-open-ms"}, metric{}, "ms", 1, aim{}},
				{"the same with the processor slowed down four times", metric{"Judge", "chromium/4-open-ms"}, metric{}, "ms", 1, aim{}},
			},
		},
		{
			folder: "examples/kit/page/module",
			says:   "What a browser loads, packed by gzip.",
			test:   "TestSizes",
			env:    []string{"TESTS=whole"},
			rows: []row{
				{"the whole module", metric{"Sizes", "whole: packed"}, metric{}, "MB", millionth, atMost(2.5)},
				{"that of the lessons", metric{"Sizes", "lessons: packed"}, metric{}, "MB", millionth, atMost(1.2)},
			},
		},
	}
}
