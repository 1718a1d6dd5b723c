using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Tests;

public sealed class EngineTests
{
    private static readonly Measure Below90 = new("below_90", "Below 90 %") { Eligible = "spo2_pre >= 90", Met = "spo2_min < 90" };

    private static readonly Month January = new(2026, 1);

    private static EngineOptions Options => new() { AsOf = new DateOnly(2026, 3, 31), Threads = 2 };

    [Fact]
    public void Counts_by_month_and_stratum()
    {
        using var store = new Store().Add("""
            SELECT * FROM (VALUES
              ('r1', DATE '2026-01-05', 95, 80, 'icu'), ('r2', DATE '2026-01-31', 95, 92, 'ed'), ('r3', DATE '2026-02-01', 85, 80, 'ed'),
              ('r4', DATE '2026-02-02', NULL, 80, NULL), ('r5', DATE '2026-02-03', 97, NULL, 'icu')) t(record_id, event_date, spo2_pre, spo2_min, location_type)
            """);
        using var engine = Open(store);
        var rows = engine.Count([Below90], ["location_type"]).Rows;
        Assert.Equal(
            [
                "2026-01 all all 1/2 0", "2026-02 all all 0/0 2",
                "2026-01 location_type icu 1/1 0", "2026-02 location_type icu 0/0 1",
                "2026-01 location_type ed 0/1 0",
                "2026-02 location_type (missing) 0/0 1",
            ],
            rows.Select(row => $"{row.Month} {row.Stratum} {row.Level} {row.Count.Met}/{row.Count.Eligible} {row.Count.Missing}"));
    }

    [Theory]
    [InlineData("cico_declared AND fona_performed", Settled.All, MissingRule.Dropped, 1, 4, 5)]
    [InlineData("cico_declared AND fona_performed", Settled.Any, MissingRule.Dropped, 1, 6, 3)]
    [InlineData("cico_declared OR fona_performed", Settled.All, MissingRule.Dropped, 3, 4, 5)]
    [InlineData("cico_declared OR fona_performed", Settled.Any, MissingRule.Dropped, 5, 6, 3)]
    [InlineData("cico_declared AND fona_performed", Settled.All, MissingRule.NotDone, 1, 9, 0)]
    public void Met_is_judged_when_every_field_it_names_is_known_unless_any_settles_it(string met, Settled settled, MissingRule missing, int isMet, int eligible, int isMissing)
    {
        // All nine pairs of yes, no and missing once each.
        using var store = new Store().Add("""
            SELECT 'r' AS record_id, DATE '2026-01-05' AS event_date, a.v AS cico_declared, b.v AS fona_performed
            FROM (VALUES (true), (false), (NULL)) a(v), (VALUES (true), (false), (NULL)) b(v)
            """);
        using var engine = Open(store);
        var measure = new Measure("m", "M") { Eligible = "true", Met = met, Settled = settled, Missing = missing };
        Assert.Equal(new Count(isMet, eligible, isMissing), One(engine, measure));
        if (missing == MissingRule.NotDone)
            Assert.Equal(new Count(1, 4, 5), One(engine, measure, "m.known"));
    }

    [Fact]
    public void Unknown_eligibility_is_missing_under_every_rule()
    {
        using var store = new Store().Add("SELECT * FROM (VALUES (DATE '2026-01-05', NULL, true), (DATE '2026-01-05', true, NULL), (DATE '2026-01-06', false, true)) t(event_date, team_brief, senior_present)");
        using var engine = Open(store);
        var measure = new Measure("m", "M") { Eligible = "team_brief", Met = "senior_present", Missing = MissingRule.NotDone };
        Assert.Equal(new Count(0, 1, 1), One(engine, measure));
        Assert.Equal(new Count(0, 0, 2), One(engine, measure, "m.known"));
    }

    [Fact]
    public void A_field_that_is_not_applicable_makes_the_record_not_eligible()
    {
        using var store = new Store().Add(
            "SELECT * FROM (VALUES (DATE '2026-01-05', true), (DATE '2026-01-05', NULL), (DATE '2026-01-05', NULL)) t(event_date, sustained_co2)",
            reasons: "SELECT * FROM (VALUES ('procedure', 1, 0, 0, 'sustained_co2', 'not_applicable'), ('procedure', 2, 0, 0, 'sustained_co2', 'unknown')) t(tab, \"row\", line, attempt_no, field, reason)");
        using var engine = Open(store);
        Assert.Equal(new Count(1, 1, 1), One(engine, new Measure("m", "M") { Eligible = "true", Met = "sustained_co2" }));
    }

    [Fact]
    public void A_not_applicable_cell_of_the_first_attempt_counts_too_in_columns_and_in_a_file_of_its_own()
    {
        // Attempt 1 of a says so; attempt 2 of b says so, which is nothing to a measure of attempt 1. In columns, row is the record's.
        const string records = "SELECT * FROM (VALUES ('a', DATE '2026-01-05'), ('b', DATE '2026-01-05')) t(record_id, event_date)";
        var measure = new Measure("m", "M") { Eligible = "true", Met = "attempt1_introducer <> 'none'" };
        using var wide = new Store().Add(records, Attempts(0, 1, 1), Reasons(0, 1));
        using var own = new Store().Add(records).Add(null, Attempts(0, 1, 2), Reasons(0, 2));
        foreach (var store in new[] { wide, own })
        {
            using var engine = Open(store);
            Assert.Equal(new Count(1, 1, 0), One(engine, measure));
        }

        static string Attempts(int a1, int b1, int b2) =>
            $"SELECT * FROM (VALUES ({a1}, 2, 'a', 1, NULL), ({b1}, 3, 'b', 1, 'bougie'), ({b2}, 3, 'b', 2, NULL)) t(\"row\", line, record_id, attempt_no, introducer)";
        static string Reasons(int a1, int b2) =>
            $"SELECT * FROM (VALUES ('attempt', {a1}, 0, 1, 'introducer', 'not_applicable'), ('attempt', {b2}, 0, 2, 'introducer', 'not_applicable')) t(tab, \"row\", line, attempt_no, field, reason)";
    }

    [Fact]
    public void Rows_set_aside_are_not_counted_but_are_judged()
    {
        using var store = new Store().Add("SELECT * FROM (VALUES (DATE '2026-01-05', 95, 80), (DATE '2026-01-05', 80, 95), (DATE '2026-01-06', 95, 94)) t(event_date, spo2_pre, spo2_min)");
        using var engine = Open(store, Options with { Rules = [Rule("falls", "spo2_min <= spo2_pre", Severity.Warn)] });
        engine.SetAside([new SetAside(0, false, 0), new SetAside(0, false, 1)]);
        Assert.Equal(new Count(0, 1, 0), One(engine, Below90));
        Assert.Equal([new RuleBreach(0, 1, 3, 0)], engine.Judge());
    }

    [Fact]
    public void Blanking_hides_only_the_fields_a_broken_rule_names_and_all_rules_see_the_same_state()
    {
        // The second rule compares what the first one blanks: it must still see both values.
        using var store = new Store().Add("SELECT * FROM (VALUES (DATE '2026-01-05', 80, 95, 93, 70)) t(event_date, spo2_pre, spo2_min, spo2_at_2min, sbp_min)");
        using var engine = Open(store, Options with
        {
            Rules =
            [
                Rule("falls", "spo2_min <= spo2_pre", Severity.Blank, "spo2_min", "spo2_pre"),
                Rule("lowest", "spo2_min <= spo2_at_2min", Severity.Blank, "spo2_min", "spo2_at_2min"),
                Rule("warned", "sbp_min > 75", Severity.Warn),
            ],
        });
        var query = engine.Query("SELECT spo2_pre, spo2_min, spo2_at_2min, sbp_min, lowest_spo2 FROM records UNION ALL SELECT spo2_pre, spo2_min, spo2_at_2min, sbp_min, lowest_spo2 FROM records_as_recorded");
        Assert.Equal([null, null, null, 70, null], query.Rows[0]);
        Assert.Equal([80, 95, 93, 70, 95], query.Rows[1]);
        Assert.Equal(new Count(0, 0, 1), One(engine, Below90));
        Assert.Equal([0, 1, 2], engine.Judge().Select(breach => breach.Rule));
    }

    [Fact]
    public void Unknown_is_no_breach_and_blanks_nothing()
    {
        using var store = new Store().Add("SELECT DATE '2026-01-05' AS event_date, 95 AS spo2_pre, NULL::INTEGER AS spo2_min");
        using var engine = Open(store, Options with { Rules = [Rule("falls", "spo2_min <= spo2_pre", Severity.Blank, "spo2_min", "spo2_pre")] });
        Assert.Empty(engine.Judge());
        Assert.Equal(95, engine.Query("SELECT spo2_pre FROM records").Rows.Single()[0]);
    }

    [Fact]
    public void A_set_field_is_blanked_as_a_whole()
    {
        var columns = string.Concat(Column.Of(FieldDictionary.Shipped.Find(FieldDictionary.Procedure, "preox_method")!).Select(column => $", true AS {column.Name}"));
        using var store = new Store().Add($"SELECT DATE '2026-01-05' AS event_date{columns}");
        using var engine = Open(store, Options with { Rules = [Rule("none_alone", "NOT (preox_method_none AND preox_method_hfno)", Severity.Blank, "preox_method")] });
        Assert.Equal([null, null], engine.Query("SELECT preox_method_none, preox_method_niv_or_cpap FROM records").Rows[0]);
    }

    [Fact]
    public void A_measure_that_a_source_lacks_a_field_for_has_no_rows_from_it_and_says_so()
    {
        using var store = new Store()
            .Add("SELECT * FROM (VALUES (DATE '2026-01-05', 95, 80)) t(event_date, spo2_pre, spo2_min)")
            .Add("SELECT * FROM (VALUES (DATE '2026-01-06', 70)) t(event_date, spo2_min)");
        using var engine = Open(store);
        var result = engine.Count([Below90, new Measure("gone", "Gone") { Eligible = "true", Met = "team_brief" }], []);
        Assert.Equal([new CountRow("below_90", January, "all", "all", new Count(1, 1, 0))], result.Rows);
        Assert.Equal(["below_90 source1 spo2_pre", "gone source0 team_brief", "gone source1 team_brief"], result.NotCollected.Select(item => $"{item.Measure} {item.Source} {string.Join(",", item.Fields)}"));
    }

    [Fact]
    public void Alternative_evidence_that_is_never_collected_is_left_out_so_that_the_other_can_say_no()
    {
        var either = new Measure("preox", "Preoxygenation") { Eligible = "true", Met = "preox_min >= 3 OR eto2_pre_pct > 85", Settled = Settled.Any };
        using var store = new Store().Add("SELECT * FROM (VALUES (DATE '2026-01-05', 4.0::DOUBLE), (DATE '2026-01-05', 1.0), (DATE '2026-01-05', NULL)) t(event_date, preox_min)");
        using var engine = Open(store);
        Assert.Equal(new Count(1, 2, 1), One(engine, either));
        Assert.Single(engine.Count([either with { Settled = Settled.All }], []).NotCollected);
    }

    [Fact]
    public void An_assumption_stands_in_for_a_field_that_is_not_collected_but_never_for_a_blank_cell()
    {
        using var store = new Store()
            .Add("SELECT * FROM (VALUES (DATE '2026-01-05', 95, 80)) t(event_date, spo2_pre, spo2_min)")
            .Add("SELECT * FROM (VALUES (DATE '2026-01-06', 95, 95, NULL), (DATE '2026-01-06', 95, 95, false)) t(event_date, spo2_pre, spo2_min, cardiac_arrest_before)");
        using var engine = Open(store, Options with { Assume = ImmutableDictionary<string, string>.Empty.Add("cardiac_arrest_before", "no") });
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
            Assume = ImmutableDictionary<string, string>.Empty.Add("urgency", "emergency").Add("age_band", "adult").Add("cardiac_arrest_before", "no"),
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
        var dictionary = FieldDictionary.Shipped.With([new Field("device", FieldDictionary.Procedure, FieldType.Code, "Device", "") { Allowed = ["vl_one", "direct"] }]);
        using var store = new Store().Add("SELECT * FROM (VALUES ('a', DATE '2026-01-05', 'vl_one'), ('b', DATE '2026-01-05', NULL)) t(record_id, event_date, device)", dictionary: dictionary)
            .Add("SELECT 'c' AS record_id, DATE '2026-01-05' AS event_date")
            .Add(null, "SELECT * FROM (VALUES ('a', 1, 'direct'), ('b', 1, 'direct'), ('c', 1, 'video')) t(record_id, attempt_no, device)");
        using var engine = Engine.Open(dictionary, store.Sources, Options);
        Assert.Equal(["vl_one", null, "video"], engine.Query("SELECT device FROM records ORDER BY record_id").Rows.Select(row => row[0]));
    }

    [Fact]
    public void A_month_of_more_records_than_one_packed_number_holds_is_counted_in_parts()
    {
        using var store = new Store().Add("SELECT CAST(i AS INTEGER) AS \"row\", CAST(i + 2 AS INTEGER) AS line, DATE '2026-01-05' AS event_date, i % 2 = 0 AS team_brief FROM range(2200000) t(i)");
        using var engine = Open(store);
        Assert.Equal(new Count(1_100_000, 2_200_000, 0), One(engine, new Measure("m", "M") { Eligible = "true", Met = "team_brief" }));
    }

    [Fact]
    public void Quantities_are_counted_by_whole_unit_value_with_the_missing_apart()
    {
        using var store = new Store().Add("SELECT * FROM (VALUES (DATE '2026-01-05', 'ed', 3.2::DOUBLE), (DATE '2026-01-05', 'ed', 2.9), (DATE '2026-01-06', 'icu', NULL), (DATE '2026-02-06', 'icu', 4)) t(event_date, location_type, preox_min)");
        using var engine = Open(store);
        var measure = new Measure("minutes", "Minutes") { Kind = MeasureKind.Quantity, Eligible = "true", Value = "preox_min" };
        Assert.Equal(
            ["2026-01 all all 3 2", "2026-01 all all - 1", "2026-02 all all 4 1", "2026-01 location_type icu - 1", "2026-02 location_type icu 4 1", "2026-01 location_type ed 3 2"],
            engine.Values([measure, Below90], ["location_type"]).Rows.Select(row => $"{row.Month} {row.Stratum} {row.Level} {row.Value?.ToString() ?? "-"} {row.N}"));
        Assert.Empty(engine.Count([measure], []).Rows);
    }

    [Fact]
    public void Summaries_say_how_many_records_there_are_and_how_complete_their_fields_are()
    {
        using var store = new Store()
            .Add("SELECT * FROM (VALUES (DATE '2026-01-05', 95, 80), (DATE '2026-02-05', NULL, 80), (DATE '2026-02-06', 95, NULL)) t(event_date, spo2_pre, spo2_min)")
            .Add("SELECT DATE '2026-02-06' AS event_date, 95 AS spo2_pre");
        using var engine = Open(store);
        Assert.Equal([new MonthRecords(January, 1), new MonthRecords(new Month(2026, 2), 3)], engine.RecordsByMonth());
        var february = engine.Completeness(new Month(2026, 2), new Month(2026, 2), ["spo2_pre", "spo2_min", "sbp_min"]);
        Assert.Equal([new Completeness("spo2_pre", 2, 3), new Completeness("spo2_min", 1, 2)], february);
    }

    [Fact]
    public void Rules_whose_fields_a_source_lacks_are_skipped_there_and_reported()
    {
        using var store = new Store().Add("SELECT DATE '2026-04-05' AS event_date, 95 AS spo2_min");
        using var engine = Open(store, Options with { Rules = [Rule("future", "event_date <= as_of", Severity.Refuse), Rule("needs", "spo2_pre IS NOT NULL", Severity.Warn)] });
        Assert.Equal([new RuleBreach(0, 0, 2, 0)], engine.Judge());
        var skipped = Assert.Single(engine.SkippedRules);
        Assert.Equal(("needs", "source0", "spo2_pre"), (skipped.Rule, skipped.Source, Assert.Single(skipped.Fields)));
    }

    [Fact]
    public void A_stratum_that_no_source_collects_is_left_out_and_listed()
    {
        using var store = new Store().Add("SELECT DATE '2026-01-05' AS event_date, 95 AS spo2_pre, 80 AS spo2_min").Add("SELECT DATE '2026-01-05' AS event_date, 95 AS spo2_pre, 80 AS spo2_min, 600 AS event_time");
        using var engine = Open(store);
        var result = engine.Count([Below90], ["location_type", "hour_band"]);
        Assert.Equal(["location_type"], result.StrataNotCollected);
        Assert.Equal([("all", "all"), ("hour_band", "08-18"), ("hour_band", "(missing)")], result.Rows.Select(row => (row.Stratum, row.Level)));
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
        Assert.Equal(["attempts.spo2_min", "spo2_min", "spo2_pre", "trace_spo2_min_sustained", "trace_spo2_status"], engine.FieldsBehind(Below90 with { Met = "lowest_spo2 < 90" }));
    }

    [Fact]
    public void A_source_without_rows_is_no_error()
    {
        using var store = new Store().Add("SELECT DATE '2026-01-05' AS event_date, 95 AS spo2_pre, 80 AS spo2_min WHERE false");
        using var engine = Open(store, Options with { Rules = RuleFile.Shipped });
        Assert.Empty(engine.Judge());
        Assert.Empty(engine.Count([Below90], []).Rows);
        Assert.Equal([new Completeness("spo2_pre", 0, 0)], engine.Completeness(January, January, ["spo2_pre"]));
    }

    [Fact]
    public void Every_one_of_a_hundred_and_fifty_rules_is_judged()
    {
        using var store = new Store().Add("SELECT * FROM (VALUES (DATE '2026-01-05', 10), (DATE '2026-01-05', 149)) t(event_date, spo2_min)");
        using var engine = Open(store, Options with { Rules = [.. Enumerable.Range(0, 150).Select(i => Rule($"not_{i}", $"spo2_min <> {i}", Severity.Warn))] });
        Assert.Equal([(0, 10), (1, 149)], engine.Judge().Select(breach => (breach.Row, breach.Rule)));
    }

    private static Engine Open(Store store, EngineOptions? options = null) => Engine.Open(FieldDictionary.Shipped, store.Sources, options ?? Options);

    private static ConsistencyRule Rule(string id, string expect, Severity severity, params string[] blanks) => new(id, expect, severity) { Blanks = [.. blanks] };

    private static Count One(Engine engine, Measure measure, string? id = null) =>
        engine.Count([measure], []).Rows.Where(row => row.Measure == (id ?? measure.Id)).Aggregate(default(Count), (sum, row) => sum + row.Count);
}
