using System.Collections.Immutable;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>An event of harm in a span of months, among all procedures: a count, never a rate of care.</summary>
/// <param name="Events">Procedures in which it happened.</param>
/// <param name="Unknown">Procedures that do not say whether it did.</param>
/// <param name="Procedures">All of them.</param>
public sealed record HarmSpan(long Events, long Unknown, long Procedures)
{
    /// <summary>True where no procedure says whether it happened: then there is no count, and least of all a nought.</summary>
    public bool IsUnknown => Procedures > 0 && Unknown == Procedures;

    /// <summary>The greatest rate that fits none at all: one-sided exact 95 %; null where there was an event or nobody said.</summary>
    public double? ZeroBound => Events == 0 && Procedures > Unknown ? 1 - Math.Pow(0.05, 1.0 / (Procedures - Unknown)) : null;
}

/// <summary>An event of harm in the report month, the last 12 months, and the 12 before them.</summary>
/// <param name="Event">The event, as its flags name it.</param>
/// <param name="Month">The report month.</param>
/// <param name="Year">The 12 months that end with it, or as many as there are.</param>
/// <param name="Before">The 12 months before those; null where the series does not reach back so far.</param>
public sealed record HarmFigures(string Event, HarmSpan Month, HarmSpan Year, HarmSpan? Before)
{
    /// <summary>Every event that was asked, in the order of the flags.</summary>
    public static ImmutableArray<HarmFigures> All(DepartmentCounts department)
    {
        ArgumentNullException.ThrowIfNull(department);
        var (month, from) = (department.Month, department.YearFrom);
        var before = from.AddMonths(-12);
        return
        [
            .. department.Harm.GroupBy(row => row.Harm).Select(rows => new HarmFigures(rows.Key,
                Sum(rows, month, month), Sum(rows, from, month),
                before >= department.Book.First && from == month.AddMonths(-11) ? Sum(rows, before, from.AddMonths(-1)) : null)),
        ];
    }

    private static HarmSpan Sum(IEnumerable<HarmCount> rows, Month from, Month to) =>
        rows.Where(row => row.Month >= from && row.Month <= to).Aggregate(new HarmSpan(0, 0, 0), (sum, row) =>
            new(sum.Events + row.Events, sum.Unknown + row.Unknown, sum.Procedures + row.Records));
}
