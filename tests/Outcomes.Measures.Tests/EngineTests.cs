using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;
using static Outcomes.Tests.Engines;

namespace Outcomes.Tests;

/// <summary>Counts, quantities and summaries on small tables worked by hand.</summary>
public sealed class EngineTests
{
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
    public void Met_is_judged_when_every_field_it_names_is_known_unless_any_settles_it(
        string met, Settled settled, MissingRule missing, int isMet, int eligible, int isMissing)
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
        using var store = new Store().Add("SELECT * FROM (VALUES (DATE '2026-01-05', NULL, true), (DATE '2026-01-05', true, NULL), "
            + "(DATE '2026-01-06', false, true)) t(event_date, team_brief, senior_present)");
        using var engine = Open(store);
        var measure = new Measure("m", "M") { Eligible = "team_brief", Met = "senior_present", Missing = MissingRule.NotDone };
        Assert.Equal(new Count(0, 1, 1), One(engine, measure));
        Assert.Equal(new Count(0, 0, 2), One(engine, measure, "m.known"));
    }

    [Fact]
    public void A_field_that_is_not_applicable_makes_the_record_not_eligible()
    {
        using var store = new Store().Add(
            "SELECT * FROM (VALUES (DATE '2026-01-05', true), (DATE '2026-01-05', NULL), (DATE '2026-01-05', "
                + "NULL)) t(event_date, sustained_co2)",
            reasons: "SELECT * FROM (VALUES ('procedure', 1, 0, 0, 'sustained_co2', 'not_applicable'), ('procedure', 2, 0, 0, "
                + "'sustained_co2', 'unknown')) t(tab, \"row\", line, attempt_no, field, reason)");
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
            $"SELECT * FROM (VALUES ({a1}, 2, 'a', 1, NULL), ({b1}, 3, 'b', 1, 'bougie'), ({b2}, 3, 'b', 2, NULL)) t(\"row\", line, "
                + "record_id, attempt_no, introducer)";
        static string Reasons(int a1, int b2) =>
            $"SELECT * FROM (VALUES ('attempt', {a1}, 0, 1, 'introducer', 'not_applicable'), ('attempt', {b2}, 0, 2, 'introducer', "
                + "'not_applicable')) t(tab, \"row\", line, attempt_no, field, reason)";
    }

    [Fact]
    public void A_month_of_more_records_than_one_packed_number_holds_is_counted_in_parts()
    {
        using var store = new Store().Add("SELECT CAST(i AS INTEGER) AS \"row\", CAST(i + 2 AS INTEGER) AS line, "
            + "DATE '2026-01-05' AS event_date, i % 2 = 0 AS team_brief FROM range(2200000) t(i)");
        using var engine = Open(store);
        Assert.Equal(new Count(1_100_000, 2_200_000, 0), One(engine, new Measure("m", "M") { Eligible = "true", Met = "team_brief" }));
    }

    [Fact]
    public void Quantities_are_counted_by_whole_unit_value_with_the_missing_apart()
    {
        using var store = new Store().Add("SELECT * FROM (VALUES (DATE '2026-01-05', 'ed', 3.2::DOUBLE), (DATE '2026-01-05', 'ed', 2.9), "
            + "(DATE '2026-01-06', 'icu', NULL), (DATE '2026-02-06', 'icu', 4)) t(event_date, location_type, preox_min)");
        using var engine = Open(store);
        var measure = new Measure("minutes", "Minutes") { Kind = MeasureKind.Quantity, Eligible = "true", Value = "preox_min" };
        Assert.Equal(
            ["2026-01 all all 3 2", "2026-01 all all - 1", "2026-02 all all 4 1", "2026-01 location_type icu - 1",
                "2026-02 location_type icu 4 1", "2026-01 location_type ed 3 2"],
            engine.Values([measure, Below90], ["location_type"]).Rows
                .Select(row => $"{row.Month} {row.Stratum} {row.Level} {row.Value?.ToString() ?? "-"} {row.N}"));
        Assert.Empty(engine.Count([measure], []).Rows);
    }

    [Fact]
    public void Summaries_say_how_many_records_there_are_and_how_complete_their_fields_are()
    {
        using var store = new Store()
            .Add("SELECT * FROM (VALUES (DATE '2026-01-05', 95, 80), (DATE '2026-02-05', NULL, 80), (DATE '2026-02-06', 95, "
                + "NULL)) t(event_date, spo2_pre, spo2_min)")
            .Add("SELECT DATE '2026-02-06' AS event_date, 95 AS spo2_pre");
        using var engine = Open(store);
        Assert.Equal([new MonthRecords(January, 1), new MonthRecords(new Month(2026, 2), 3)], engine.RecordsByMonth());
        var february = engine.Completeness(new Month(2026, 2), new Month(2026, 2), ["spo2_pre", "spo2_min", "sbp_min"]);
        Assert.Equal([new Completeness("spo2_pre", 2, 3), new Completeness("spo2_min", 1, 2)], february);
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
}
