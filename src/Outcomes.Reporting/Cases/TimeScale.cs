namespace Outcomes.Reporting.Cases;

/// <summary>
/// Minutes on a line: those round induction have the room, and what lies long before or after them has a narrow end each. Where there is
/// little before and after, the scale is the same everywhere.
/// </summary>
/// <param name="From">First minute.</param>
/// <param name="To">Last minute.</param>
/// <param name="WideFrom">Where the wide part begins.</param>
/// <param name="WideTo">Where it ends.</param>
internal sealed record TimeScale(double From, double To, double WideFrom, double WideTo)
{
    // Of the whole width, for each end that there is.
    private const double End = 0.12;

    // So much at each side of what was done round induction is drawn wide; an end shorter than this is no end.
    private const double Before = 3, After = 4, Least = 4;

    // So many minutes have room enough as they are.
    private const double Roomy = 12;

    /// <summary>The scale of a case.</summary>
    /// <param name="times">Every time that is drawn, in seconds from induction.</param>
    /// <param name="moments">Those of what was done, in seconds; the last of them within a quarter of an hour ends the wide part.</param>
    public static TimeScale Of(IReadOnlyCollection<double> times, IEnumerable<double> moments)
    {
        var (from, to) = (Math.Floor(times.Min() / 60), Math.Ceiling(times.Max() / 60));
        to = Math.Max(to, from + 1);
        if (to - from <= Roomy)
            return new(from, to, from, to);
        var last = moments.Where(seconds => seconds is >= 0 and <= 15 * 60).DefaultIfEmpty(0).Max() / 60;
        var (wideFrom, wideTo) = (-Before, Math.Ceiling(last) + After);
        return new(from, to, wideFrom - from >= Least ? wideFrom : from, to - wideTo >= Least ? wideTo : to);
    }

    public bool HasEarlyEnd => WideFrom > From;

    public bool HasLateEnd => WideTo < To;

    /// <summary>Where a minute stands, from 0 at the left to 1 at the right.</summary>
    public double Place(double minute)
    {
        var (left, right) = (HasEarlyEnd ? End : 0, HasLateEnd ? 1 - End : 1);
        return minute < WideFrom ? left * (minute - From) / (WideFrom - From)
            : minute > WideTo ? right + ((1 - right) * (minute - WideTo) / (To - WideTo))
            : left + ((right - left) * (minute - WideFrom) / (WideTo - WideFrom));
    }

    /// <summary>Minutes with a mark: every one or few in the wide part, and the ends.</summary>
    public IEnumerable<double> Marks()
    {
        var step = (WideTo - WideFrom) switch { <= 12 => 1, <= 30 => 2, <= 75 => 5, _ => 15 };
        if (HasEarlyEnd)
            yield return From;
        for (var minute = Math.Ceiling(WideFrom / step) * step; minute <= WideTo; minute += step)
            yield return minute;
        if (HasLateEnd)
            yield return To;
    }
}
