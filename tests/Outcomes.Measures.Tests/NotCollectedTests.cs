using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;
using static Outcomes.Tests.Engines;

namespace Outcomes.Tests;

/// <summary>What a source does not collect, and what a pipeline assumes or defines in its place.</summary>
public sealed class NotCollectedTests
{
    [Fact]
    public void A_measure_that_a_source_lacks_a_field_for_has_no_rows_from_it_and_says_so()
    {
        using var store = new Store()
            .Add("SELECT * FROM (VALUES (DATE '2026-01-05', 95, 80)) t(event_date, spo2_pre, spo2_min)")
            .Add("SELECT * FROM (VALUES (DATE '2026-01-06', 70)) t(event_date, spo2_min)");
        using var engine = Open(store);
        var result = engine.Count([Below90, new Measure("gone", "Gone") { Eligible = "true", Met = "team_brief" }], []);
        Assert.Equal([new CountRow("below_90", January, "all", "all", new Count(1, 1, 0))], result.Rows);
        Assert.Equal(["below_90 source1 spo2_pre", "gone source0 team_brief", "gone source1 team_brief"],
            result.NotCollected.Select(item => $"{item.Measure} {item.Source} {string.Join(",", item.Fields)}"));
    }

    [Fact]
    public void Alternative_evidence_that_is_never_collected_is_left_out_so_that_the_other_can_say_no()
    {
        var either = new Measure("preox", "Preoxygenation")
        {
            Eligible = "true",
            Met = "preox_min >= 3 OR eto2_pre_pct > 85",
            Settled = Settled.Any
        };
        using var store = new Store().Add("SELECT * FROM (VALUES (DATE '2026-01-05', 4.0::DOUBLE), (DATE '2026-01-05', 1.0), "
            + "(DATE '2026-01-05', NULL)) t(event_date, preox_min)");
        using var engine = Open(store);
        Assert.Equal(new Count(1, 2, 1), One(engine, either));
        Assert.Single(engine.Count([either with { Settled = Settled.All }], []).NotCollected);
    }

    [Fact]
    public void An_assumption_stands_in_for_a_field_that_is_not_collected_but_never_for_a_blank_cell()
    {
        using var store = new Store()
            .Add("SELECT * FROM (VALUES (DATE '2026-01-05', 95, 80)) t(event_date, spo2_pre, spo2_min)")
            .Add("SELECT * FROM (VALUES (DATE '2026-01-06', 95, 95, NULL), (DATE '2026-01-06', 95, 95, false)) t(event_date, spo2_pre, "
                + "spo2_min, cardiac_arrest_before)");
        using var engine =
            Open(store, Options with { Assume = ImmutableDictionary<string, string>.Empty.Add("cardiac_arrest_before", "no") });
        var measure = Below90 with { Eligible = "spo2_pre >= 90 AND NOT cardiac_arrest_before" };
        Assert.Equal(new Count(1, 2, 1), One(engine, measure));
        var rests = Assert.Single(engine.Count([measure], []).Assumptions);
        Assert.Equal(("source0", "cardiac_arrest_before"), (rests.Source, Assert.Single(rests.Fields)));
    }

    [Fact]
    public void A_minimal_export_with_its_assumptions_gives_real_figures()
    {
        using var store = new Store().Add("""
            SELECT * FROM (VALUES ('a', DATE '2026-01-05', 1, 'A', 98, 95), ('b', DATE '2026-01-09', 2, 'A', 96, 84), ('c', DATE '2026-01-20', 3, 'B', 92, 70))
              t(record_id, event_date, attempts_total, final_plan, spo2_pre, spo2_min)
            """);
        using var engine = Open(store, Options with
        {
            Assume = ImmutableDictionary<string, string>.Empty.Add("urgency", "emergency").Add("age_band", "adult")
                .Add("cardiac_arrest_before", "no"),
        });
        var result = engine.Count(MeasureCatalogue.Shipped, []);
        var counts = result.Rows.ToDictionary(row => row.Measure, row => row.Count);
        Assert.Equal(new Count(1, 3, 0), counts["first_pass"]);
        Assert.Equal(new Count(2, 3, 0), counts["attempts_2_plus"]);
        Assert.Equal(new Count(1, 3, 0), counts["attempts_3_plus"]);
        Assert.Equal(new Count(2, 3, 0), counts["spo2_below_90"]);
        Assert.Equal(new Count(2, 3, 0), counts["success_by_second_attempt"]);
        Assert.Equal(new Count(1, 3, 0), counts["beyond_plan_a"]);
        Assert.DoesNotContain(counts, pair => pair.Value.Eligible == 0);
        Assert.DoesNotContain("hypotension", counts.Keys);
        Assert.Equal(["sbp_min", "sbp_pre"], result.NotCollected.Single(item => item.Measure == "hypotension").Fields);
        Assert.Contains(result.Assumptions, item => item.Measure == "first_pass" && item.Fields.SequenceEqual(["age_band", "urgency"]));
    }

    [Fact]
    public void A_local_field_wins_over_the_derived_column_of_the_same_name_where_it_is_collected()
    {
        var dictionary = FieldDictionary.Shipped.With([new Field("device", FieldDictionary.Procedure, FieldType.Code, "Device", "")
        { Allowed = ["vl_one", "direct"] }]);
        using var store = new Store().Add("SELECT * FROM (VALUES ('a', DATE '2026-01-05', 'vl_one'), ('b', DATE '2026-01-05', "
            + "NULL)) t(record_id, event_date, device)", dictionary: dictionary)
            .Add("SELECT 'c' AS record_id, DATE '2026-01-05' AS event_date")
            .Add(null, "SELECT * FROM (VALUES ('a', 1, 'direct'), ('b', 1, 'direct'), ('c', 1, 'video')) t(record_id, attempt_no, device)");
        using var engine = Engine.Open(dictionary, store.Sources, Options);
        Assert.Equal(["vl_one", null, "video"], engine.Query("SELECT device FROM records ORDER BY record_id").Rows.Select(row => row[0]));
    }

    [Fact]
    public void A_stratum_that_no_source_collects_is_left_out_and_listed()
    {
        using var store = new Store().Add("SELECT DATE '2026-01-05' AS event_date, 95 AS spo2_pre, 80 AS spo2_min")
            .Add("SELECT DATE '2026-01-05' AS event_date, 95 AS spo2_pre, 80 AS spo2_min, 600 AS event_time");
        using var engine = Open(store);
        var result = engine.Count([Below90], ["location_type", "hour_band"]);
        Assert.Equal(["location_type"], result.StrataNotCollected);
        Assert.Equal([("all", "all"), ("hour_band", "08-18"), ("hour_band", "(missing)")],
            result.Rows.Select(row => (row.Stratum, row.Level)));
    }

    [Fact]
    public void Without_a_source_definitions_can_still_be_checked_and_nothing_is_counted()
    {
        using var engine = Engine.Open(FieldDictionary.Shipped, [], Options with { Rules = RuleFile.Shipped });
        engine.Check(MeasureCatalogue.Shipped, ["location_type"]);
        Assert.Empty(engine.Count(MeasureCatalogue.Shipped, ["location_type"]).Rows);
        Assert.Empty(engine.Values(MeasureCatalogue.Shipped, []).Rows);
        Assert.Empty(engine.Judge());
        Assert.Empty(engine.RecordsByMonth());
        Assert.Empty(engine.Completeness(January, January));
        Assert.Equal(0, engine.Ladder(January, January).Records);
        Assert.Equal(["attempts.spo2_min", "spo2_at_2min", "spo2_min", "spo2_pre", "trace_spo2_min_sustained"],
            engine.FieldsBehind(Below90 with { Met = "lowest_spo2 < 90" }));
    }
}
