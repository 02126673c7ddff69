module example.com/closefit

go 1.26

require (
	github.com/google/go-cmp v0.7.0
	github.com/pelletier/go-toml/v2 v2.4.3
	github.com/shopspring/decimal v1.6.0
	gonum.org/v1/gonum v0.17.0
	pgregory.net/rapid v1.3.0
)
