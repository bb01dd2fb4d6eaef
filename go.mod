module drivewright

go 1.26
