using System.Collections.Immutable;
using Outcomes.Records;

namespace Outcomes.Reporting.Disclosure;

/// <summary>
/// The periods of releases: a fixed number of months from a fixed month of the calendar on, whatever the counts. A period that closed when
/// it held enough would date an event to its last month.
/// </summary>
/// <param name="FirstMonth">A month of the year (1 to 12) in which a period begins.</param>
/// <param name="Months">Months of a period: 1, 2, 3, 4, 6 or 12.</param>
public sealed record Timetable(int FirstMonth, int Months)
{
    /// <summary>Months of a period that may be split by a stratum: as on the department's own pages.</summary>
    public const int Year = 12;

    private const int HalfYear = 6;

    /// <summary>
    /// Years where a pipeline names strata, else half-years; both from the first month of its baseline, else from January.
    /// </summary>
    public static Timetable Of(Month? baseline, bool split) => new(baseline?.Number ?? 1, split ? Year : HalfYear);

    /// <summary>Every period that has begun by the first month of records or later and has ended with the last.</summary>
    public ImmutableArray<Period> Between(Month first, Month last)
    {
        var behind = ((first.Number - FirstMonth) % Months + Months) % Months;
        var periods = ImmutableArray.CreateBuilder<Period>();
        for (var from = first.AddMonths(-behind); from.AddMonths(Months - 1) <= last; from = from.AddMonths(Months))
            periods.Add(new Period(from, from.AddMonths(Months - 1)));
        return periods.ToImmutable();
    }
}

/// <summary>Months from one to another, both included.</summary>
public readonly record struct Period(Month From, Month To)
{
    public int Months => To.MonthsSince(From) + 1;

    /// <summary>True where they share a month.</summary>
    public bool Overlaps(Period other) => From <= other.To && other.From <= To;
}
