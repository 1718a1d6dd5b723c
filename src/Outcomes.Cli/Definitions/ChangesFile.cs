using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Yaml;
using Outcomes.Statistics;

namespace Outcomes.Cli.Definitions;

/// <summary>Reads the changes that a department declares: a list of entries, in any order.</summary>
internal static class ChangesFile
{
    public static readonly YamlKeys Keys = new("change", "date", "what", "measures", "expect", "judged_after",
        "judged_at_cases", "new_phase", "why");

    /// <summary>The changes in order of their dates, each with the places of the measures that it names.</summary>
    /// <exception cref="Records.Failure">A key is wrong or unknown, or the file is missing (exit 3, file and line).</exception>
    public static ImmutableArray<ChangeEntry> Read(string path, string shown) =>
        [.. YamlFile.ReadPath(path, shown).Items().Select(Entry).OrderBy(entry => entry.Change.Date)];

    /// <summary>
    /// Refuses more evaluations within 12 months than the report may spend chance on (<see cref="FalseStatements"/>): each finds a
    /// difference in one of twenty departments in which nothing changed.
    /// </summary>
    /// <exception cref="Records.Failure">There are too many (exit 3, file and line).</exception>
    public static void RequireFew(IReadOnlyList<ChangeEntry> changes, Pace pace)
    {
        var most = FalseStatements.MostChanges(pace);
        var due = changes.Select(entry => (Entry: entry, Month: entry.Change.FirstWhole.AddMonths(entry.Change.Plan.Months - 1)))
            .OrderBy(each => each.Month).ToArray();
        for (var at = most; at < due.Length; at++)
            if (due[at].Month.MonthsSince(due[at - most].Month) < 12)
                throw Records.Failure.Definition(due[at].Entry.File, due[at].Entry.Measures[0].Line,
                    $"more than {most} changes would be evaluated in the 12 months that end with {due[at].Month}; "
                        + "by chance alone one in twenty is called a difference. Evaluate one of them later (`judged_after`), "
                        + "or declare together what was changed together");
    }

    private static ChangeEntry Entry(YamlNode node)
    {
        var map = node.Map(Keys);
        PipelineWord[] measures = [.. map.Required("measures").Items().Select(item => new PipelineWord(item.Text(), item.Line))];
        if (measures.Length == 0)
            throw map.Required("measures").Wrong("name at least one measure that the change should move");
        return new ChangeEntry(
            new DeclaredChange(
                map.Required("date").Date(),
                map.Text("what"),
                [.. measures.Select(word => word.Word)],
                map.Required("expect").Choice(("up", Direction.Up), ("down", Direction.Down), ("same", Direction.None)),
                map.Optional("new_phase")?.YesNo() ?? false,
                map.Text("why"))
            {
                Plan = Plan(map),
            },
            node.File,
            [.. measures]);
    }

    // Asked for when the change is declared: a date that is chosen after the months are seen can be chosen by what they show.
    private static EvaluationPlan Plan(YamlMap map)
    {
        var (months, cases) = (map.Required("judged_after"), map.Optional("judged_at_cases"));
        if (months.Integer() is < EvaluationPlan.FewestMonths or > EvaluationPlan.MostMonths)
            throw months.Wrong("the change is evaluated after 6 to 24 whole months: `judged_after: 12`");
        if (cases?.Integer() is < PlannedComparison.LeastCases or > EvaluationPlan.MostCases)
            throw cases.Wrong("the change may be evaluated sooner, with 40 to 10000 cases: `judged_at_cases: 150`");
        return new(months.Integer(), cases?.Integer());
    }
}

/// <summary>A declared change, the file that declares it, and the measures that it names with their lines.</summary>
public sealed record ChangeEntry(DeclaredChange Change, string File, ImmutableArray<PipelineWord> Measures);
