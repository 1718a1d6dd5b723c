using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Statistics;
using static Outcomes.Tests.Engines;

namespace Outcomes.Tests;

/// <summary>Consistency rules in the engine: what they find, what they blank, what they are not run on.</summary>
public sealed class RuleTests
{
    [Fact]
    public void Rows_set_aside_are_not_counted_but_are_judged()
    {
        using var store = new Store().Add("SELECT * FROM (VALUES (DATE '2026-01-05', 95, 80), (DATE '2026-01-05', 80, 95), "
            + "(DATE '2026-01-06', 95, 94)) t(event_date, spo2_pre, spo2_min)");
        using var engine = Open(store, Options with { Rules = [Rule("falls", "spo2_min <= spo2_pre", Severity.Warn)] });
        engine.SetAside([new SetAside(0, false, 0), new SetAside(0, false, 1)]);
        Assert.Equal(new Count(0, 1, 0), One(engine, Below90));
        Assert.Equal([new RuleBreach(0, 1, 3, 0)], engine.Judge());
    }

    [Fact]
    public void Blanking_hides_only_the_fields_a_broken_rule_names_and_all_rules_see_the_same_state()
    {
        // The second rule compares what the first one blanks: it must still see both values.
        using var store = new Store()
            .Add("SELECT * FROM (VALUES (DATE '2026-01-05', 80, 95, 93, 70)) t(event_date, spo2_pre, spo2_min, spo2_at_2min, sbp_min)");
        using var engine = Open(store, Options with
        {
            Rules =
            [
                Rule("falls", "spo2_min <= spo2_pre", Severity.Blank, "spo2_min", "spo2_pre"),
                Rule("lowest", "spo2_min <= spo2_at_2min", Severity.Blank, "spo2_min", "spo2_at_2min"),
                Rule("warned", "sbp_min > 75", Severity.Warn),
            ],
        });
        var query = engine.Query("SELECT spo2_pre, spo2_min, spo2_at_2min, sbp_min, lowest_spo2 FROM records UNION ALL SELECT spo2_pre, "
            + "spo2_min, spo2_at_2min, sbp_min, lowest_spo2 FROM records_as_recorded");
        Assert.Equal([null, null, null, 70, null], query.Rows[0]);
        Assert.Equal([80, 95, 93, 70, 80], query.Rows[1]);
        Assert.Equal(new Count(0, 0, 1), One(engine, Below90));
        Assert.Equal([0, 1, 2], engine.Judge().Select(breach => breach.Rule));
    }

    [Fact]
    public void Unknown_is_no_breach_and_blanks_nothing()
    {
        using var store = new Store().Add("SELECT DATE '2026-01-05' AS event_date, 95 AS spo2_pre, NULL::INTEGER AS spo2_min");
        using var engine =
            Open(store, Options with { Rules = [Rule("falls", "spo2_min <= spo2_pre", Severity.Blank, "spo2_min", "spo2_pre")] });
        Assert.Empty(engine.Judge());
        Assert.Equal(95, engine.Query("SELECT spo2_pre FROM records").Rows.Single()[0]);
    }

    [Fact]
    public void A_set_field_is_blanked_as_a_whole()
    {
        var columns = string.Concat(Column.Of(FieldDictionary.Shipped.Find(FieldDictionary.Procedure, "preox_method")!)
            .Select(column => $", true AS {column.Name}"));
        using var store = new Store().Add($"SELECT DATE '2026-01-05' AS event_date{columns}");
        using var engine = Open(store,
            Options with { Rules = [Rule("none_alone", "NOT (preox_method_none AND preox_method_hfno)", Severity.Blank, "preox_method")] });
        Assert.Equal([null, null], engine.Query("SELECT preox_method_none, preox_method_niv_or_cpap FROM records").Rows[0]);
    }

    [Fact]
    public void Rules_whose_fields_a_source_lacks_are_skipped_there_and_reported()
    {
        using var store = new Store().Add("SELECT DATE '2026-04-05' AS event_date, 95 AS spo2_min");
        using var engine = Open(store, Options with
        { Rules = [Rule("future", "event_date <= as_of", Severity.Refuse), Rule("needs", "spo2_pre IS NOT NULL", Severity.Warn)] });
        Assert.Equal([new RuleBreach(0, 0, 2, 0)], engine.Judge());
        var skipped = Assert.Single(engine.SkippedRules);
        Assert.Equal(("needs", "source0", "spo2_pre"), (skipped.Rule, skipped.Source, Assert.Single(skipped.Fields)));
    }

    [Theory]
    [InlineData("duration_s")]
    [InlineData("attempt1_outcome")]
    [InlineData("intubation_attempts")]
    public void A_rule_that_would_blank_what_belongs_to_attempts_is_refused_with_its_place(string field)
    {
        using var store = new Store().Add("SELECT DATE '2026-01-05' AS event_date");
        var rule = Rule("r", "spo2_min > 50", Severity.Blank, field) with { File = "rules.yaml", Line = 7 };
        var failure = Assert.Throws<Failure>(() => Open(store, Options with { Rules = [rule] }));
        Assert.Equal((ExitCode.Definition, "rules.yaml", 7), (failure.Code, failure.File, failure.Line));
        Assert.Contains($"`{field}` belongs to attempts", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Records_that_agree_in_every_compared_field_are_alike_and_a_missing_one_is_no_agreement()
    {
        using var store = new Store()
            .Add("SELECT * FROM (VALUES ('a', DATE '2026-01-05', 60, 'male'), ('b', DATE '2026-01-05', 60, 'male'), ('c', "
                + "DATE '2026-01-05', 60, 'female'), ('d', DATE '2026-01-05', 60, NULL), ('e', DATE '2026-01-05', 60, NULL)) t(record_id, "
                + "event_date, age_years, sex)")
            .Add("SELECT 'f' AS record_id, DATE '2026-01-05' AS event_date, 60 AS age_years, 'female' AS sex");
        using var engine = Open(store);
        Assert.Equal([new(0, 2, "a"), new(0, 3, "b"), new(0, 4, "c"), new(1, 2, "f")], engine.Alike(["event_date", "age_years", "sex"]));
        engine.SetAside([new SetAside(1, false, 0)]);
        Assert.Equal(["a", "b"], engine.Alike(["event_date", "age_years", "sex"]).Select(alike => alike.RecordId));
        Assert.Empty(engine.Alike(["event_date", "age_years", "sex", "t_first_blade_s"]));
    }

    [Fact]
    public void Levels_are_counted_by_site_where_asked()
    {
        using var store = new Store().Add("SELECT * FROM (VALUES (DATE '2026-01-05', 90, 'N'), (DATE '2026-01-06', 90, 'S'), "
            + "(DATE '2026-01-07', 90, 'N'), (DATE '2026-01-07', NULL, NULL)) t(event_date, spo2_min, site_code)");
        using var engine = Open(store);
        Assert.Equal([new(January, "90", 2) { Site = "N" }, new(January, "90", 1) { Site = "S" }, new(January, null, 1)],
            engine.Levels("spo2_min", "site_code"));
        Assert.Equal([new LevelCount(January, "90", 3), new(January, null, 1)], engine.Levels("spo2_min"));
    }

    [Fact]
    public void Every_one_of_a_hundred_and_fifty_rules_is_judged()
    {
        using var store =
            new Store().Add("SELECT * FROM (VALUES (DATE '2026-01-05', 10), (DATE '2026-01-05', 149)) t(event_date, spo2_min)");
        using var engine = Open(store,
            Options with { Rules = [.. Enumerable.Range(0, 150).Select(i => Rule($"not_{i}", $"spo2_min <> {i}", Severity.Warn))] });
        Assert.Equal([(0, 10), (1, 149)], engine.Judge().Select(breach => (breach.Row, breach.Rule)));
    }
}
