using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Tests;

/// <summary>Engines on small stores, and the measure that most tests ask.</summary>
internal static class Engines
{
    public static readonly Measure Below90 = new("below_90", "Below 90 %") { Eligible = "spo2_pre >= 90", Met = "spo2_min < 90" };

    public static readonly Month January = new(2026, 1);

    public static EngineOptions Options => new() { AsOf = new DateOnly(2026, 3, 31), Threads = 2 };

    public static Engine Open(Store store, EngineOptions? options = null) =>
        Engine.Open(FieldDictionary.Shipped, store.Sources, options ?? Options);

    public static ConsistencyRule Rule(string id, string expect, Severity severity, params string[] blanks) =>
        new(id, expect, severity) { Blanks = [.. blanks] };

    /// <summary>A measure's count over all months.</summary>
    public static Count One(Engine engine, Measure measure, string? id = null) =>
        engine.Count([measure], []).Rows.Where(row => row.Measure == (id ?? measure.Id))
            .Aggregate(default(Count), (sum, row) => sum + row.Count);
}
