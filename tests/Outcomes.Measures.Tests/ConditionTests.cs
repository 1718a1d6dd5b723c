using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Tests;

public sealed class ConditionTests
{
    [Theory]
    [InlineData("spo2_mni < 90", "did you mean `spo2_min`?")]
    [InlineData("emergencyy", "did you mean `emergency`?")]
    [InlineData("plan_b = 'suceeded'", "did you mean 'succeeded'?")]
    [InlineData("urgency IN ('emergency', 'soon')", "'soon' is no value of `urgency`")]
    [InlineData("spo2_min", "it gives a number where yes or no is needed")]
    [InlineData("spo2_min + 1", "it gives a number where yes or no is needed")]
    [InlineData("NULL", "it gives nothing where yes or no is needed")]
    [InlineData("spo2_min < 'ninety'", "it compares a number with text")]
    [InlineData("team_brief = 1", "a yes/no field stands alone")]
    [InlineData("team_brief > false", "yes/no values have no order")]
    [InlineData("team_brief AND spo2_min", "`and/or` needs yes or no, but a part of it gives a number")]
    [InlineData("spo2_min = NULL", "write `is null`")]
    [InlineData("event_date < '31/03/2026'", "a date is written as 'yyyy-mm-dd'")]
    [InlineData("lower(urgency) = 'emergency'", "the function `lower`")]
    [InlineData("urgency LIKE 'e%'", "`like`")]
    [InlineData("urgency ~ 'e'", "outside the portable subset")]
    [InlineData("spo2_min::VARCHAR = '90'", "a cast")]
    [InlineData("team_brief IS TRUE", "outside the portable subset")]
    [InlineData("coalesce(team_brief, true)", "the function `coalesce`")]
    [InlineData("CASE WHEN team_brief THEN true END", "`case`")]
    [InlineData("spo2_min < (SELECT 90)", "a subquery")]
    [InlineData("spo2_min < $1", "a parameter")]
    [InlineData("records.team_brief", "a name with a dot")]
    [InlineData("team_brief = [true]", "outside the portable subset")]
    [InlineData("team_brief) FROM read_text('x') WHERE (true", "a query")]
    [InlineData("team_brief), (true", "a query")]
    [InlineData("team_brief); DROP TABLE x; SELECT (true", "it cannot be read")]
    [InlineData("team_brief); SELECT (true", "several statements")]
    [InlineData("team_brief -- and no more\n) FROM range(3) WHERE (true", "a query")]
    [InlineData("team_brief AND", "it cannot be read")]
    [InlineData("", "it cannot be read")]
    public void A_condition_outside_what_is_allowed_is_an_error_at_its_line(string condition, string says)
    {
        var failure = Assert.Throws<Failure>(
            () => Check(new Measure("m", "M") { Eligible = "true", Met = condition, File = "m.yaml", EligibleLine = 3, MetLine = 4 }));
        Assert.Equal((ExitCode.Definition, "m.yaml", 4), (failure.Code, failure.File, failure.Line));
        Assert.StartsWith("m.yaml:4: measure m, met: ", failure.Message, StringComparison.Ordinal);
        Assert.Contains(says, failure.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("true")]
    [InlineData("NOT (spo2_min BETWEEN 80 AND 89) OR spo2_min IS NULL")]
    [InlineData("spo2_pre - spo2_min >= 10 AND -spo2_min < +1.5 * 2 / 3")]
    [InlineData("urgency NOT IN ('planned') AND event_date >= '2026-01-01' AND event_date BETWEEN '2026-01-01' AND as_of")]
    [InlineData("team_brief = senior_present AND complication_aspiration <> true")]
    [InlineData("team_brief -- a comment ends with its line")]
    [InlineData("\"team_brief\"")]
    public void The_portable_subset_runs(string condition)
    {
        using var store = new Store().Add("SELECT 'a' AS record_id, DATE '2026-01-05' AS event_date");
        using var engine = Engine.Open(FieldDictionary.Shipped, store.Sources, new EngineOptions
        {
            AsOf = new DateOnly(2026, 3, 31),
            Rules = [new ConsistencyRule("r", condition, Severity.Warn)],
        });
        _ = engine.Judge();
        engine.Check([new Measure("m", "M") { Eligible = condition, Met = condition }], []);
    }

    [Fact]
    public void A_quote_in_a_value_stays_a_value()
    {
        using var store =
            new Store().Add("SELECT * FROM (VALUES (DATE '2026-01-05', 'a''b'), (DATE '2026-01-05', 'ab')) t(event_date, unit_code)");
        using var engine = Engine.Open(FieldDictionary.Shipped, store.Sources, new EngineOptions { AsOf = new DateOnly(2026, 3, 31) });
        var row = Assert.Single(engine.Count([new Measure("m", "M") { Eligible = "true", Met = "unit_code = 'a''b'" }], []).Rows);
        Assert.Equal((1, 2), (row.Count.Met, row.Count.Eligible));
    }

    [Fact]
    public void A_stratum_or_an_assumption_that_names_no_field_is_a_definition_error()
    {
        using var store = new Store().Add("SELECT DATE '2026-01-05' AS event_date");
        var options = new EngineOptions { AsOf = new DateOnly(2026, 3, 31) };
        using (var engine = Engine.Open(FieldDictionary.Shipped, store.Sources, options))
            Assert.Contains("did you mean `location_type`", Assert.Throws<Failure>(() => engine.Count([], ["location_typ"])).Message,
                StringComparison.Ordinal);
        foreach (var (field, value, says) in new[]
        {
            ("urgancy", "emergency", "did you mean `urgency`?"), ("urgency", "now", "its values are"), ("spo2_pre", "high", "no value of")
        })
        {
            var failure = Assert.Throws<Failure>(() => Engine.Open(FieldDictionary.Shipped, store.Sources,
                options with { Assume = options.Assume.Add(field, value) }));
            Assert.Equal(ExitCode.Definition, failure.Code);
            Assert.Contains(says, failure.Message, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("cardiac_arrest_peri", "names an event")]
    [InlineData("complication", "names an event")]
    [InlineData("plan_a_attempts", "names an event")]
    [InlineData("adult", "derived columns cannot be blanked")]
    [InlineData("spo2_lowest", "no field of the dictionary")]
    public void No_rule_blanks_an_event_or_what_is_no_field(string blanked, string says)
    {
        using var store = new Store().Add("SELECT DATE '2026-01-05' AS event_date");
        var failure = Assert.Throws<Failure>(() => Engine.Open(FieldDictionary.Shipped, store.Sources, new EngineOptions
        {
            AsOf = new DateOnly(2026, 3, 31),
            Rules = [new ConsistencyRule("r", "spo2_min > 0", Severity.Blank) { Blanks = [blanked], File = "rules.yaml", Line = 7 }],
        }));
        Assert.Contains("rules.yaml:7", failure.Message, StringComparison.Ordinal);
        Assert.Contains(says, failure.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("a", "b", "it goes round in a circle")]
    [InlineData("nothing_known", "true", "no field or derived column is called `nothing_known`")]
    public void Derived_columns_that_cannot_be_worked_out_are_definition_errors(string first, string second, string says)
    {
        DerivedColumn[] derived =
        [
            new("a", DerivedType.YesNo, $"not {(first == "a" ? "b" : first)}") { File = "derived.yaml", Line = 1 },
            new("b", DerivedType.YesNo, second == "b" ? "not a" : second) { File = "derived.yaml", Line = 2 }
        ];
        var failure = Assert.Throws<Failure>(() => ExampleRunner.Run(FieldDictionary.Shipped, derived, [], []));
        Assert.Contains("derived.yaml:1", failure.Message, StringComparison.Ordinal);
        Assert.Contains(says, failure.Message, StringComparison.Ordinal);
    }

    private static void Check(Measure measure) => ExampleRunner.Run(FieldDictionary.Shipped, DerivedFile.Shipped, [measure], []);
}
