using System.Collections.Immutable;
using System.Text;
using Outcomes.Ingestion.Parsing;

namespace Outcomes.Cli.Drafting;

/// <summary>How a column writes its dates.</summary>
/// <param name="Pattern">The one pattern that fits; null when there is none or more than one.</param>
/// <param name="Either">Patterns that fit equally well: the order of day and month cannot be told.</param>
/// <param name="Mixed">Some cells can only be read day first and others only month first.</param>
public sealed record DateForm(string? Pattern, ImmutableArray<string> Either, bool Mixed)
{
    private const double Enough = 0.95;

    private static readonly string[] Plain =
    [
        "yyyy-MM-dd", "yyyy/MM/dd", "yyyyMMdd", "dd-MMM-yyyy", "d-MMM-yyyy", "dd MMM yyyy", "d MMM yyyy"
    ];
    private static readonly string[] Clocks = ["", " HH:mm", " HH:mm:ss", "THH:mm", "THH:mm:ss"];
    private static readonly string[] Times = ["HH:mm", "H:mm", "HH:mm:ss", "H:mm:ss", "HH.mm"];

    /// <summary>The form of dates; null when the column holds none.</summary>
    public static DateForm? OfDates(ColumnProfile column)
    {
        if (column.Filled == 0) return null;
        foreach (var clock in Clocks)
        {
            foreach (var plain in Plain)
                if (column.Share(Reads(plain + clock)) >= Enough) return new DateForm(plain + clock, [], false);
            foreach (var separator in (string[])["/", "-", "."])
                foreach (var (day, month) in (ReadOnlySpan<(string, string)>)[("dd", "MM"), ("d", "M")])
                {
                    var (dayFirst, monthFirst) =
                        ($"{day}{separator}{month}{separator}yyyy{clock}", $"{month}{separator}{day}{separator}yyyy{clock}");
                    var (isDayFirst, isMonthFirst) = (Reads(dayFirst), Reads(monthFirst));
                    if (column.Share(cell => isDayFirst(cell) || isMonthFirst(cell)) < Enough) continue;
                    var onlyDayFirst = column.Words.Any(word => isDayFirst(word.Word) && !isMonthFirst(word.Word));
                    var onlyMonthFirst = column.Words.Any(word => isMonthFirst(word.Word) && !isDayFirst(word.Word));
                    return (onlyDayFirst, onlyMonthFirst) switch
                    {
                        (true, false) => new DateForm(dayFirst, [], false),
                        (false, true) => new DateForm(monthFirst, [], false),
                        var both => new DateForm(null, [dayFirst, monthFirst], both.onlyDayFirst),
                    };
                }
        }

        return null;
    }

    /// <summary>The pattern of times of day; null when the column holds none.</summary>
    public static string? OfTimes(ColumnProfile column) =>
        column.Filled == 0 ? null : Times.FirstOrDefault(
            pattern => column.Share(cell => DatePattern.ForTimes(pattern)!.TryMinutes(Encoding.UTF8.GetBytes(cell), out _)) >= Enough);

    private static Func<string, bool> Reads(string pattern)
    {
        var read = DatePattern.ForDates(pattern)!;
        return cell => read.TryDate(Encoding.UTF8.GetBytes(cell), out _);
    }
}
