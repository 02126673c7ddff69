package purchase

import "example.com/closefit/internal/thorough"

func init() { thorough.Checks(50) }
