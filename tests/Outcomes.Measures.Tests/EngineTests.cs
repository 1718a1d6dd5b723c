using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public sealed class EngineTests
{
    private static readonly Measure Below90 = new("spo2_below_90", "Below 90 %") { Eligible = "spo2_pre >= 90", Met = "spo2_min < 90" };

    private static EngineOptions Options => new() { AsOf = new DateOnly(2026, 3, 31), Threads = 2 };

    [Fact]
    public void Counts_by_month_and_stratum()
    {
        using var store = new Store().Add("""
            SELECT * FROM (VALUES
              ('r1', DATE '2026-01-05', 95, 80, 'icu'), ('r2', DATE '2026-01-31', 95, 92, 'ed'), ('r3', DATE '2026-02-01', 85, 80, 'ed'),
              ('r4', DATE '2026-02-02', NULL, 80, NULL), ('r5', DATE '2026-02-03', 97, NULL, 'icu')) t(record_id, event_date, spo2_pre, spo2_min, location_type)
            """);
        using var engine = Engine.Open(FieldDictionary.Shipped, store.Sources, Options);
        var counts = engine.Count([Below90], ["location_type"]).Rows.ToDictionary(row => (row.Month.ToString(), row.Stratum, row.Level), row => row.Count);
        Assert.Equal(new Count(1, 2, 0), counts[("2026-01", "all", "all")]);
        Assert.Equal(new Count(0, 0, 2), counts[("2026-02", "all", "all")]);
        Assert.Equal(new Count(1, 1, 0), counts[("2026-01", "location_type", "icu")]);
        Assert.Equal(new Count(0, 1, 0), counts[("2026-01", "location_type", "ed")]);
        Assert.Equal(new Count(0, 0, 1), counts[("2026-02", "location_type", "(missing)")]);
        Assert.Equal(new Count(0, 0, 1), counts[("2026-02", "location_type", "icu")]);
        Assert.Equal(6, counts.Count);
    }
}
