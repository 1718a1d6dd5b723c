using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Ingestion;
using Outcomes.Records;
using Outcomes.Reporting.Tables;

namespace Outcomes.Cli.Output;

/// <summary>
/// When declared changes were to be evaluated by earlier reports, from the sets that lie beside this one: a date that was moved after
/// months were seen may have been moved because of what they showed, so the report says it.
/// </summary>
internal static class EarlierPlans
{
    private const string Table = "tables/changes.csv";

    /// <summary>The tables of earlier months that there are.</summary>
    public static IEnumerable<(Month Month, string Path)> Files(EarlierPacks packs) => packs.Keys
        .Select(key => (key.Month, Path: Path.Combine(Path.GetDirectoryName(key.Path)!, "tables", "changes.csv")))
        .Where(file => File.Exists(file.Path));

    /// <summary>The changes, those whose plan was another one with the last earlier report that differs.</summary>
    public static ImmutableArray<DeclaredChange> Compare(ImmutableArray<DeclaredChange> changes, EarlierPacks packs)
    {
        if (changes.IsEmpty)
            return changes;
        string[] columns = [.. TableSchemas.Of(Table).Columns.Select(column => column.Name)];
        var earlier = Files(packs).OrderByDescending(file => file.Month)
            .SelectMany(file => PublishedPlans.Read(file.Path, columns).Select(plan => (file.Month, Plan: plan))).ToArray();
        return [.. changes.Select(change => change with { EarlierPlan = Find(change) })];

        EarlierPlan? Find(DeclaredChange change) => earlier
            .Where(each => each.Plan.Date == change.Date && change.Measures.Contains(each.Plan.Measure))
            .Select(each => new EarlierPlan(each.Month, new(each.Plan.JudgedAfter, each.Plan.JudgedAtCases)))
            .FirstOrDefault(each => each.Plan != change.Plan);
    }
}
