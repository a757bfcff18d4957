"""Bad input by the hundred, for every reader: ``python -m tests.bench.fuzz``, and ``python -m tests.bench.fuzz.verify``."""
