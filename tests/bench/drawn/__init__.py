"""Test squares drawn in general-purpose ways, for ``tests.bench.foreign``; mm from the lower left corner of A4."""
