using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Measures.Conditions;

/// <summary>
/// A measure as SQL over the table <c>records</c> that <c>outcomes query</c> offers: the same trees that the engine counts by. A field that
/// is not applicable cannot be told from a missing one there, and counts as missing.
/// </summary>
internal static class ShownSql
{
    public static string Of(Measure measure, Expression eligible, Expression asked, (Month From, Month To) months, string? split)
    {
        var (e, a) = (SqlText.Of(eligible), SqlText.Of(asked));
        var known = measure.Settled == Settled.All && Expressions.Names(asked) is { Length: > 0 } names
            ? string.Join(" AND ", names.Select(name => $"{Quote.Name(name)} IS NOT NULL"))
            : $"{a} IS NOT NULL";
        var figures = measure.Kind == MeasureKind.Quantity
            ? $"count({a}) FILTER (WHERE {e}) AS n,\n       quantile_cont({a}, 0.5) FILTER (WHERE {e}) AS median"
            : measure.Missing == MissingRule.NotDone
            ? $"count(*) FILTER (WHERE {e} AND {known} AND {a}) AS met,\n       count(*) FILTER (WHERE {e}) AS eligible,\n"
                + $"       count(*) FILTER (WHERE {e} IS NULL) AS missing"
            : $"count(*) FILTER (WHERE {e} AND {known} AND {a}) AS met,\n       count(*) FILTER (WHERE {e} AND {known}) AS eligible,\n"
                + $"       count(*) FILTER (WHERE {e} IS NULL OR ({e} AND NOT ({known}))) AS missing";
        var by = split is null ? "" : $"{Quote.Name(split)},\n       ";
        return $"SELECT {by}{figures}\nFROM records\n"
            + $"WHERE event_date BETWEEN DATE '{months.From.FirstDay:yyyy-MM-dd}' AND DATE '{months.To.LastDay:yyyy-MM-dd}'"
            + (split is null ? "" : "\nGROUP BY 1 ORDER BY 1");
    }
}
