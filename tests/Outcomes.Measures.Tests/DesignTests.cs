using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Tests;

public sealed class DesignTests
{
    private static readonly Measure Below90 = new("below_90", "Below 90 %") { Eligible = "spo2_pre >= 90", Met = "spo2_min < 90" };

    [Fact]
    public void Judged_records_come_one_by_one_in_the_order_of_their_dates_with_the_fields_asked()
    {
        // Not eligible: r3; not judged: r4 and r5.
        using var store = new Store().Add("""
            SELECT * FROM (VALUES
              ('r1', DATE '2026-02-05', 95, 80, 'icu', true), ('r2', DATE '2026-01-31', 96, 92, NULL, false), ('r3', DATE '2026-02-01', 85, 80, 'ed', true),
              ('r4', DATE '2026-02-02', NULL, 80, NULL, true), ('r5', DATE '2026-02-03', 97, NULL, 'icu', NULL)) t(record_id, event_date, spo2_pre, spo2_min, location_type, team_brief)
            """);
        using var engine =
            Engine.Open(FieldDictionary.Shipped, store.Sources, new EngineOptions { AsOf = new DateOnly(2026, 3, 31), Threads = 1 });
        var design = engine.Design(Below90, ["location_type", "spo2_pre", "team_brief", "infection_status"]);
        Assert.Equal([new Month(2026, 1), new Month(2026, 2)], design.Months);
        Assert.Equal([false, true], design.Met);
        Assert.Equal(["infection_status"], design.NotCollected);
        Assert.Equal([null, "icu"], design.Fields[0].Levels);
        Assert.Equal([96.0, 95.0], design.Fields[1].Numbers);
        Assert.Equal(["no", "yes"], design.Fields[2].Levels);
        Assert.True(design.Fields[0].Numbers.IsDefault && design.Fields[1].Levels.IsDefault);
    }

    [Fact]
    public void As_many_records_are_judged_as_are_counted()
    {
        using var store = new Store().Add("""
            SELECT 'r' || i AS record_id, DATE '2026-01-01' + CAST(i % 50 AS INTEGER) AS event_date, CASE WHEN i % 7 <> 0 THEN 85 + i % 15 END AS spo2_pre, CASE WHEN i % 5 <> 0 THEN 70 + i % 30 END AS spo2_min FROM range(500) t(i)
            """);
        using var engine =
            Engine.Open(FieldDictionary.Shipped, store.Sources, new EngineOptions { AsOf = new DateOnly(2026, 3, 31), Threads = 2 });
        var design = engine.Design(Below90, []);
        var counts = engine.Count([Below90], []).Rows;
        Assert.Equal(counts.Sum(row => row.Count.Eligible), design.Met.Length);
        Assert.Equal(counts.Sum(row => row.Count.Met), design.Met.Count(met => met));
    }

    [Fact]
    public void A_name_that_does_not_exist_is_told_with_the_key_it_stands_under()
    {
        using var engine = Engine.Open(FieldDictionary.Shipped, [], new EngineOptions { AsOf = new DateOnly(2026, 3, 31) });
        engine.CheckNames("case_mix", ["location_type", "hypoxaemic_before"]);
        var failure = Assert.Throws<Failure>(() => engine.CheckNames("case_mix", ["locatoin_type"]));
        Assert.StartsWith("case_mix: ", failure.Message, StringComparison.Ordinal);
    }
}
