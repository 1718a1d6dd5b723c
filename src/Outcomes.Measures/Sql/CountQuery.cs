using System.Collections.Immutable;
using DuckDB.NET.Data;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Measures.Sql;

/// <summary>
/// Counts every measure by month and by month and stratum level in one pass: each condition is evaluated once a record, into
/// a packed number, and the numbers are summed. Totals over months are added up afterwards, since counts add.
/// </summary>
internal static class CountQuery
{
    /// <summary>Records a part may hold, so that no sum of a group can overflow its 21 bits.</summary>
    private const int PartBits = MeasureSql.Bits - 1;

    /// <summary>Months since year 0, which group faster than dates.</summary>
    public const string Month = "CAST(year(event_date) * 12 + month(event_date) - 1 AS INTEGER)";

    public static Month MonthOf(int index) => new(index / 12, (index % 12) + 1);

    /// <summary>The stratum that a grouping is by, -1 for none: the engine sets a bit for each that it is not by.</summary>
    public static int Stratum(long grouping, int strata)
    {
        for (var i = 0; i < strata; i++)
            if ((grouping >> (strata - 1 - i) & 1) == 0)
                return i;
        return -1;
    }

    public static CountResult Run(CountedRecords from, IReadOnlyList<Measure> asked, IReadOnlyList<string> strata, long storedRows)
    {
        var plans = asked.Where(measure => measure.Kind == MeasureKind.Proportion).Select(from.Measures.For).ToArray();
        var counted = plans.Where(plan => !plan.Variants.IsEmpty).ToArray();
        var lines = counted.SelectMany(plan =>
            plan.Measure.Missing == MissingRule.NotDone ? new Line[] { new(plan, false), new(plan, true) } : [new(plan, false)]).ToArray();
        var cells = new Cells(strata.Count, lines.Length);
        if (lines.Length > 0)
        {
            var notApplicable = from.Rows.NotApplicable(counted.SelectMany(from.Measures.Cells));
            using var command = from.Connection.CreateCommand();
            command.CommandText = Sql(from, counted, lines, strata, notApplicable, storedRows >> PartBits > 0);
            using var reader = command.ExecuteReader();
            while (reader.Read())
                cells.Add(reader);
        }

        return new CountResult(cells.Rows(lines, strata, from.Scope), [.. plans.SelectMany(plan => plan.Lacking)],
            [.. plans.SelectMany(plan => plan.Assumptions)], [])
        {
            Uncollected = [.. plans.Where(plan => plan.Variants.IsEmpty && !plan.Lacking.IsEmpty).Select(plan => plan.Measure.Id)],
        };
    }

    private static string Sql(CountedRecords counted, IReadOnlyList<MeasureSql.Plan> plans, Line[] lines, IReadOnlyList<string> strata,
        IReadOnlyList<CellKey> notApplicable, bool parts)
    {
        var columns = plans.SelectMany(plan => plan.Names).Concat(strata).Append("event_date").Distinct();
        var measures = counted.Measures;
        var from = counted.Records.Build(columns, Stage.Counted, notApplicable);
        var levels = string.Concat(strata.Select((stratum, i) => $", {Level(counted.Scope.Get(stratum))} AS g{i}"));
        var codes = string.Concat(lines.Select((line, i) =>
            $", CAST({(line.Known ? measures.Known(line.Plan, notApplicable) : measures.Code(line.Plan, notApplicable))} "
                + $"AS {(line.Known ? "INTEGER" : "BIGINT")}) AS c{i}"));
        var part = parts ? $", source * 4096 + (\"row\" >> {PartBits}) AS part" : "";
        var key = parts ? "month, part" : "month";
        var sets = string.Join(", ", strata.Select((_, i) => $"({key}, g{i})").Prepend($"({key})"));
        var grouping = strata.Count == 0 ? "0" : $"grouping({string.Join(", ", strata.Select((_, i) => $"g{i}"))})";
        return $"SELECT month, {grouping}{string.Concat(strata.Select((_, i) => $", g{i}"))}"
            + $"{string.Concat(lines.Select((_, i) => $", CAST(sum(c{i}) AS BIGINT)"))}"
            + $" FROM (SELECT {Month} AS month{part}{levels}{codes} FROM ({from}) WHERE event_date IS NOT NULL)"
            + $" GROUP BY GROUPING SETS ({sets})";
    }

    /// <summary>A level as text, the way it is written in tables.</summary>
    public static string Level(ScopeColumn column) => column.SqlType switch
    {
        "VARCHAR" => Quote.Name(column.Name),
        "BOOLEAN" => $"CASE WHEN {Quote.Name(column.Name)} THEN 'yes' WHEN NOT {Quote.Name(column.Name)} THEN 'no' END",
        _ => $"CAST({Quote.Name(column.Name)} AS VARCHAR)",
    };

    /// <summary>A column of sums: a measure, or which of its eligible records have a known answer.</summary>
    private sealed record Line(MeasureSql.Plan Plan, bool Known);

    /// <summary>Sums by month and level while they are read.</summary>
    private sealed class Cells(int strata, int lines)
    {
        private readonly Dictionary<(int Stratum, string Level, Month Month), Count[]> _counts = [];

        public void Add(DuckDBDataReader reader)
        {
            var month = MonthOf(reader.GetInt32(0));
            var stratum = Stratum(reader.GetInt64(1), strata);
            var level = stratum < 0 ? CountRow.All : reader.IsDBNull(2 + stratum) ? CountRow.MissingLevel : reader.GetString(2 + stratum);
            if (!_counts.TryGetValue((stratum, level, month), out var counts))
                _counts[(stratum, level, month)] = counts = new Count[lines];
            const long mask = (1L << MeasureSql.Bits) - 1;
            for (var i = 0; i < lines; i++)
                if (reader.GetInt64(2 + strata + i) is var sum && sum != 0)
                    counts[i] += new Count(sum & mask, sum >> MeasureSql.Bits & mask, sum >> (2 * MeasureSql.Bits));
        }

        public ImmutableArray<CountRow> Rows(Line[] asked, IReadOnlyList<string> names, Scope scope)
        {
            var groups = _counts.OrderBy(pair => pair.Key.Stratum)
                .ThenBy(pair => pair.Key.Stratum < 0 ? 0 : LevelOrder(pair.Key.Level, scope.Get(names[pair.Key.Stratum])))
                .ThenBy(pair => pair.Key.Level, StringComparer.Ordinal).ThenBy(pair => pair.Key.Month).ToArray();
            var rows = ImmutableArray.CreateBuilder<CountRow>();
            for (var i = 0; i < lines; i++)
                foreach (var ((stratum, level, month), counts) in groups)
                {
                    var count = counts[i];
                    if (asked[i].Known)
                    {
                        // This line counts the eligible whose answer is known; the rest of the measure's eligible are missing here.
                        var (done, known) = (counts[i - 1], counts[i].Met);
                        count = new Count(done.Met, known, done.Missing + done.Eligible - known);
                    }

                    if (!count.IsEmpty)
                        rows.Add(new CountRow(asked[i].Plan.Measure.Id + (asked[i].Known ? ".known" : ""), month,
                            stratum < 0 ? CountRow.All : names[stratum], level, count));
                }

            return rows.ToImmutable();
        }
    }

    /// <summary>The order of the dictionary; other levels after, the missing level last.</summary>
    public static int LevelOrder(string level, ScopeColumn stratum) =>
        level == CountRow.MissingLevel ? int.MaxValue
        : stratum.SqlType == "INTEGER" && int.TryParse(level, out var number) ? number
        : stratum.Allowed.IsDefaultOrEmpty || stratum.Allowed.IndexOf(level) is var i && i < 0 ? int.MaxValue - 1 : i;
}
