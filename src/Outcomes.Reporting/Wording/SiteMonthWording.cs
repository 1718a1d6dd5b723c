using System.Globalization;
using Outcomes.Analysis;

namespace Outcomes.Reporting;

/// <summary>What whole months show, in words: what was seen, and what to ask.</summary>
public static class SiteMonthWording
{
    public static string Explain(SiteMonth seen)
    {
        ArgumentNullException.ThrowIfNull(seen);
        var where = seen.Site.IsOthers ? ", other sites together" : seen.Site.Site is { } site ? $", site {site}" : "";
        return seen.Rule switch
        {
            SiteMonth.DigitPreference => string.Create(
                CultureInfo.InvariantCulture,
                $"{seen.Month.Year} Q{(seen.Month.Number + 2) / 3}{where}: {seen.Seen} of {seen.Known} values are exactly 80, 85 or 90; "
                + $"ask whether the lowest saturation is recalled or taken from the monitor's trend. "
                + $"Were one in five truly so, chance would show this in at most 2.1 % of quarters."),
            SiteMonth.PerfectSaturation => string.Create(
                CultureInfo.InvariantCulture,
                $"{seen.Month}{where}: {seen.Seen} of {seen.Known} lowest saturations are 100; "
                + $"ask whether the form fills it in, or whether only uneventful cases are entered. "
                + $"Were 35 % truly so, chance would show this in at most 1.1 % of months."),
            SiteMonth.NoComplication => string.Create(
                CultureInfo.InvariantCulture,
                $"{seen.Month}{where}: no complication in {seen.Known} records. Chance alone allows that up to a true rate of "
                + $"{100 * seen.HighestRate:0.0} % (upper end of the 95 % Wilson interval), "
                + $"and shows it in {100 * seen.ChanceAtOneInTen:0.0} % "
                + $"of months where one in ten has any; ask whether complications are looked for and entered."),
            _ => string.Create(
                CultureInfo.InvariantCulture,
                $"{seen.Month}{where}: `{seen.Level}` in {seen.Seen} of {seen.Known}, the month before in {seen.Before.Seen} "
                + $"of {seen.Before.Known}; "
                + $"ask what changed in the form, the export or the codes."),
        };
    }
}
