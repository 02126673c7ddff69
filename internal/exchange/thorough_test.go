package exchange

import "example.com/closefit/internal/thorough"

func init() { thorough.Checks(10) }
