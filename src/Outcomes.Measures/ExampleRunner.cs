using System.Collections.Immutable;
using System.Globalization;
using DuckDB.NET.Data;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Measures.Sql;
using Outcomes.Records;

namespace Outcomes.Measures;

/// <summary>An example that does not come out as it says.</summary>
/// <param name="Owner">The measure or rule, such as <c>measure first_pass</c>.</param>
/// <param name="File">Its file.</param>
/// <param name="Line">The example's line.</param>
/// <param name="Expected">What it says.</param>
/// <param name="Found">What the definition gives.</param>
public sealed record FailedExample(string Owner, string File, int Line, string Expected, string Found);

/// <summary>Runs the examples of definitions through the engine that counts: a definition is checked by what it does.</summary>
public static class ExampleRunner
{
    /// <summary>
    /// Every example that fails; a definition or an example that cannot run at all is a <see cref="Failure"/> with file and line.
    /// </summary>
    public static ImmutableArray<FailedExample> Run(
        FieldDictionary dictionary, IReadOnlyList<DerivedColumn> derived, IReadOnlyList<Measure> measures,
        IReadOnlyList<ConsistencyRule> rules, IReadOnlyList<Flag>? flags = null)
    {
        using var connection = LockedConnection.Open([], threads: 1, memoryLimitMegabytes: 256);
        var definitions = Definitions.Build(connection, dictionary, derived);
        definitions.Add(measures);
        definitions.Add(rules);
        return [.. Measures(connection, definitions, measures), .. Rules(connection, definitions, rules),
            .. Flags(connection, definitions, flags ?? [])];
    }

    private static List<FailedExample> Measures(DuckDBConnection connection, Definitions definitions, IReadOnlyList<Measure> measures)
    {
        var examples = measures.SelectMany(
            (measure, i) => measure.Examples.Select(example => (Measure: measure, Index: i, Example: example))).ToArray();
        if (examples.Length == 0)
            return [];
        var rows = new ExampleBase(
            [.. examples.Select(item => ExampleRow.Read(definitions.Scope, item.Example.Given, item.Measure.File, item.Example.Line))]);
        var collection = ExampleBase.Everything(definitions.Scope);
        var sql = new MeasureSql(definitions, collection);
        var plans = measures.Select(sql.For).ToArray();
        var notApplicable = rows.NotApplicable(plans.SelectMany(sql.Cells));
        var from = new RecordsSql(definitions, collection, rows, [])
            .Build(plans.SelectMany(plan => plan.Names).Distinct(), Stage.Recorded, notApplicable);
        var answers = plans.Select(plan => Answers(sql, plan, notApplicable));
        var failed = new List<FailedExample>();
        using var command = connection.CreateCommand();
        command.CommandText = $"SELECT \"row\", {string.Join(", ", answers)} FROM ({from}) ORDER BY \"row\"";
        using var reader = command.ExecuteReader();
        while (reader.Read())
        {
            var (measure, index, example) = examples[reader.GetInt32(0)];
            var code = Convert.ToInt64(reader.GetValue(1 + (2 * index)), CultureInfo.InvariantCulture);
            var value = reader.IsDBNull(2 + (2 * index)) ? (int?)null : reader.GetInt32(2 + (2 * index));
            var found = measure.Kind == MeasureKind.Proportion ? Word(MeasureSql.Answer(code))
                : code == 0 ? Word(Answer.NotEligible)
                : code == 1 || value is null ? Word(Answer.Missing)
                : ((decimal)value.Value / measure.Scale).ToString("0.###", CultureInfo.InvariantCulture);
            var expected = example.Value?.ToString("0.###", CultureInfo.InvariantCulture) ?? Word(example.Expect);
            if (found != expected)
                failed.Add(new FailedExample($"measure {measure.Id}", measure.File, example.Line, expected, found));
        }

        return failed;
    }

    /// <summary>Two columns a measure: the packed answer and nothing, or how eligible it is and the value of a quantity.</summary>
    private static string Answers(MeasureSql sql, MeasureSql.Plan plan, IReadOnlyList<CellKey> notApplicable)
    {
        if (plan.Measure.Kind == MeasureKind.Proportion)
            return $"{sql.Code(plan, notApplicable)}, CAST(NULL AS INTEGER)";
        var (eligible, value, tooLow) = sql.Quantity(plan, notApplicable);
        return $"{eligible}, CASE WHEN {tooLow} = 0 THEN {value} END";
    }

    private static List<FailedExample> Rules(DuckDBConnection connection, Definitions definitions, IReadOnlyList<ConsistencyRule> rules)
    {
        var examples = rules.SelectMany((rule, i) => rule.Examples.Select(example => (Rule: rule, Index: i, Example: example))).ToArray();
        if (examples.Length == 0)
            return [];
        var rows = new ExampleBase(
            [.. examples.Select(item => ExampleRow.Read(definitions.Scope, item.Example.Given, item.Rule.File, item.Example.Line))]);
        var names = rules.SelectMany(rule => Expressions.Names(definitions.Condition(rule.Expect))).Distinct();
        var from = new RecordsSql(definitions, ExampleBase.Everything(definitions.Scope), rows, []).Build(names, Stage.Stored, []);
        var failed = new List<FailedExample>();
        using var command = connection.CreateCommand();
        command.CommandText = $"SELECT \"row\", {string.Join(", ", rules.Select(rule => SqlText.Of(definitions.Condition(rule.Expect))))} "
            + $"FROM ({from}) ORDER BY \"row\"";
        using var reader = command.ExecuteReader();
        while (reader.Read())
        {
            var (rule, index, example) = examples[reader.GetInt32(0)];
            var found = reader.IsDBNull(1 + index) ? RuleOutcome.Unknown
                : reader.GetBoolean(1 + index) ? RuleOutcome.Holds
                : RuleOutcome.Broken;
            if (found != example.Expect)
                failed.Add(new FailedExample($"rule {rule.Id}", rule.File, example.Line, Word(example.Expect), Word(found)));
        }

        return failed;
    }

    private static List<FailedExample> Flags(DuckDBConnection connection, Definitions definitions, IReadOnlyList<Flag> flags)
    {
        // A flag is a condition like a rule; where it holds, it fires.
        var rules = flags.Select(flag => new ConsistencyRule(flag.Id, flag.When, Severity.Warn)
        {
            Examples = [.. flag.Examples.Select(example => new RuleExample(example.Given,
                example.Expect switch { Fired.Fires => RuleOutcome.Holds, Fired.Clear => RuleOutcome.Broken, _ => RuleOutcome.Unknown },
                example.Line))],
            File = flag.File,
            Line = flag.Line,
        }).ToArray();
        definitions.Add(rules);
        return [.. Rules(connection, definitions, rules).Select(failed =>
            failed with { Owner = "flag" + failed.Owner["rule".Length..], Expected = Said(failed.Expected), Found = Said(failed.Found) })];
    }

    private static string Said(string verdict) => verdict switch { "holds" => "fires", "broken" => "clear", _ => verdict };

    private static string Word(Answer answer) => answer switch
    {
        Answer.Met => "met",
        Answer.NotMet => "not_met",
        Answer.Missing => "missing",
        _ => "not_eligible",
    };

    private static string Word(RuleOutcome verdict) =>
        verdict switch { RuleOutcome.Holds => "holds", RuleOutcome.Broken => "broken", _ => "unknown" };
}
