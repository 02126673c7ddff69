package film

import "example.com/closefit/internal/thorough"

func init() { thorough.Checks(6) }
