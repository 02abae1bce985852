module github.com/datadog/czlib

go 1.26.0

require github.com/klauspost/compress v1.18.1
