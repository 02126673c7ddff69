package job_test

import "example.com/closefit/internal/thorough"

func init() { thorough.Checks(6) }
