using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Measures.Sql;

/// <summary>
/// Writes the query that gives records: base columns, then blanking, then derived columns level by level. Only what is asked
/// for is written, so that the engine reads few columns and joins nothing in vain.
/// </summary>
internal sealed class RecordsSql(Definitions definitions, Collection collection, IRecordBase rows, IReadOnlyList<ConsistencyRule> rules)
{
    private const string Keys = "source, \"row\", line";

    /// <summary>The records worked out once; null where every query works out what it asks.</summary>
    public KeptRecords? Kept { get; set; }

    /// <summary>SQL giving <c>source, row, line</c>, these columns, and the masks <c>na0, na1, ...</c> for these cells.</summary>
    public string Build(IEnumerable<string> columns, Stage stage, IReadOnlyList<CellKey> notApplicable)
    {
        string[] asked = [.. columns];
        return Kept?.Sql(asked, stage, notApplicable) ?? Work(asked, stage, notApplicable);
    }

    /// <summary>The same, worked out from the stored rows.</summary>
    public string Work(IEnumerable<string> columns, Stage stage, IReadOnlyList<CellKey> notApplicable)
    {
        var wanted = collection.Behind(columns).ToArray();
        var bases = wanted.Where(IsRead).ToList();
        var blanking = stage == Stage.Counted ? Blanking(bases) : [];
        var judged = collection.Behind(blanking.SelectMany(item => Expressions.Names(definitions.Condition(item.Rule.Expect)))).ToArray();
        var all = bases.Union(judged.Where(IsRead)).ToArray();
        var masks = string.Concat(Enumerable.Range(0, MaskCount(notApplicable.Count)).Select(i => $", na{i}"));
        var sql = rows.Sql(all, stage, notApplicable);
        if (blanking.Count > 0)
        {
            sql = Derive(sql, all, judged, masks);
            sql = $"SELECT {Keys}{masks}{string.Concat(bases.Select(column => ", " + Blank(column, blanking)))} FROM ({sql})";
        }

        return Derive(sql, bases, wanted, masks);
    }

    /// <summary>True where some rule blanks a column.</summary>
    public bool Blanks(string column) => Blanking([definitions.Scope.Get(column)]).Count > 0;

    /// <summary>Condition that a record breaks a rule.</summary>
    public string Broken(ConsistencyRule rule)
    {
        var tree = definitions.Condition(rule.Expect);
        var skipped = rows.CannotJudge(Expressions.Names(tree));
        var broken = $"({SqlText.Of(tree)}) IS FALSE";
        return skipped.Count == 0 ? broken : $"(source NOT IN ({string.Join(", ", skipped)}) AND {broken})";
    }

    public static int MaskCount(int cells) => (cells + 59) / 60;

    public static string IsNotApplicable(int cell) => $"(coalesce(na{cell / 60}, 0) & {1L << (cell % 60)}) <> 0";

    /// <summary>The name under which a base column travels: apart from the derived column of the same name.</summary>
    public static string BaseName(ScopeColumn column) => Quote.Name(column.Derived is null ? column.Name : column.Name + "@field");

    private bool IsRead(ScopeColumn column) => column.IsBase || rows.FieldWins(column) is not null;

    private List<(ConsistencyRule Rule, string[] Columns)> Blanking(IReadOnlyList<ScopeColumn> bases) =>
        [.. rules.Where(rule => rule.Severity == Severity.Blank)
            .Select(rule => (Rule: rule, Columns: rule.Blanks.SelectMany(definitions.Blanked).ToArray()))
            .Where(item => bases.Any(column => item.Columns.Contains(column.Name)))];

    private string Blank(ScopeColumn column, IReadOnlyList<(ConsistencyRule Rule, string[] Columns)> blanking)
    {
        var name = BaseName(column);
        var breaches = blanking.Where(item => item.Columns.Contains(column.Name)).Select(item => Broken(item.Rule)).ToArray();
        return breaches.Length == 0 ? name : $"CASE WHEN {string.Join(" OR ", breaches)} THEN NULL ELSE {name} END AS {name}";
    }

    private string Derive(string sql, IReadOnlyList<ScopeColumn> bases, IReadOnlyList<ScopeColumn> wanted, string masks)
    {
        var carried = string.Concat(bases.Select(column => ", " + BaseName(column)));
        foreach (var level in wanted.Where(column => !column.IsBase).GroupBy(column => definitions.Scope.Level(column.Name))
            .OrderBy(group => group.Key))
        {
            sql = $"SELECT {Keys}{masks}{carried}"
                + $"{string.Concat(level.Select(column => $", {Worked(column)} AS {Quote.Name(column.Name)}"))} FROM ({sql})";
            carried += string.Concat(level.Select(column => ", " + Quote.Name(column.Name)));
        }

        return sql;
    }

    private string Worked(ScopeColumn column)
    {
        var worked = $"CAST({SqlText.Of(column.Tree!)} AS {column.SqlType})";
        return rows.FieldWins(column) is { } condition ? $"CASE WHEN {condition} THEN {BaseName(column)} ELSE {worked} END" : worked;
    }
}
