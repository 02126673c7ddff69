package calc

import _ "example.com/closefit/internal/thorough" // for its garbage collection
