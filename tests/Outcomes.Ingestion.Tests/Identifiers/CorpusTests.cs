using System.Collections.Concurrent;
using System.Globalization;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>The detectors measured on the labelled corpus. The table in docs/governance.md is the long measurement's.</summary>
public class CorpusTests(ITestOutputHelper output)
{
    // Outside CI: tests/measure-identifiers.sh, which sets the seed and the sizes. With a file for misses it also lists what was missed.
    [Fact(Explicit = true)]
    public void The_long_measurement()
    {
        var misses = Environment.GetEnvironmentVariable("MISSES");
        var told = new ConcurrentBag<string>();
        var measured = new Measurement(Number("SEED", 2026), new Sizes(Number("PLANTED", 20_000), Number("PLANTED_FILES", 500), Number("CLEAN_FILES", 5000), Number("CLEAN_CELLS", 1_000_000)), Number("WORKERS", 2), misses is null ? null : told.Add);
        if (misses is not null) File.WriteAllLines(misses, told.Order(StringComparer.Ordinal));
        output.WriteLine(measured.Table());
        Assert.All(measured.Cells, row => Assert.InRange(row.Found, 0, measured.Of));
    }

    private static int Number(string name, int otherwise) =>
        Environment.GetEnvironmentVariable(name) is { Length: > 0 } text ? int.Parse(text, CultureInfo.InvariantCulture) : otherwise;
}
