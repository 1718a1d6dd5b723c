using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting;

/// <summary>
/// The one place where numbers become words. Spaces inside a figure do not break; a proportion above nothing never reads 0.0 %
/// and one below all never reads 100.0 %.
/// </summary>
public static class Wording
{
    /// <summary>A no-break space.</summary>
    public const string Space = "\u00a0";

    private static readonly string[] Months =
        ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

    /// <summary>A whole number with thousands: <c>1,417</c>.</summary>
    public static string Number(long value) => value.ToString("N0", CultureInfo.InvariantCulture);

    /// <summary>Met out of eligible: <c>18/20</c>.</summary>
    public static string Fraction(Count count) => $"{Number(count.Met)}/{Number(count.Eligible)}";

    /// <summary>A small number as a word, a larger one in digits: <c>five</c>, <c>12</c>.</summary>
    public static string Spelled(int number, bool sentence)
    {
        string[] words = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
        if (number < 0 || number >= words.Length)
            return Number(number);
        var word = words[number];
        return sentence ? char.ToUpperInvariant(word[0]) + word[1..] : word;
    }

    /// <summary>A number of things: <c>1 record</c>, <c>12 records</c>.</summary>
    public static string Some(long number, string thing, string? things = null) =>
        Number(number) + Space + (number == 1 ? thing : things ?? thing + "s");

    /// <summary>A proportion on its scale, without the unit: <c>84.2</c>.</summary>
    public static string Bare(double value, int per)
    {
        var text = (value * per).ToString("0.0", CultureInfo.InvariantCulture);
        return value > 0 && text == "0.0" ? "<0.1"
            : value < 1 && text == $"{per}.0" ? $">{per - 1}.9"
            : text;
    }

    /// <summary>The unit of a rate: <c>%</c> or <c>per 1,000</c>.</summary>
    public static string Unit(int per) => per == 100 ? "%" : $"per{Space}{Number(per)}";

    /// <summary>A UCUM unit as people say it: <c>years</c>, <c>mmHg</c>; null where it says nothing beside a value.</summary>
    public static string? UnitInWords(string? ucum) => ucum switch
    {
        null or "" or "[pH]" => null,
        "a" => "years",
        "mm[Hg]" => "mmHg",
        "deg" => "degrees",
        "/min" => "a minute",
        var unit when unit.StartsWith('{') => null,
        var unit => unit,
    };

    /// <summary>A proportion: <c>84.2 %</c>, <c>2.2 per 1,000</c>.</summary>
    public static string Rate(double value, int per) => Bare(value, per) + Space + Unit(per);

    /// <summary>Two ends: <c>77.5 to 90.3 %</c>.</summary>
    public static string Range(double lower, double upper, int per) =>
        $"{Bare(lower, per)}{Space}to{Space}{Bare(upper, per)}{Space}{Unit(per)}";

    /// <summary>
    /// An estimate with its interval: <c>84.2 % (77.5 to 90.3 %)</c>, with a star where it is wider since months vary; nothing where there
    /// is none.
    /// </summary>
    public static string Estimate(Estimate? estimate, int per) =>
        estimate is null ? "" : $"{Rate(estimate.Value, per)} ({Range(estimate.Lower, estimate.Upper, per)}){Star(estimate)}";

    /// <summary>The star of an interval that is wider since months vary; nothing for others.</summary>
    public static string Star(Estimate? estimate) => VaryingMonths.IsWider(estimate) ? "*" : "";

    /// <summary>What the star means.</summary>
    public const string StarExplained = "* Interval widened because months vary more than chance alone.";

    /// <summary>A median or an axis mark without needless decimals: <c>85 %</c>, <c>82.5 %</c>.</summary>
    public static string Short(double value, int per) =>
        (value * per).ToString("0.#", CultureInfo.InvariantCulture) + Space + Unit(per);

    /// <summary>A chance: <c>4.3 %</c>.</summary>
    public static string Chance(double value) => Rate(value, 100);

    /// <summary>A p value, without more digits than it can bear: <c>p = 0.04</c>, <c>p = 0.003</c>, <c>p &lt; 0.001</c>.</summary>
    public static string P(double value) =>
        value < 0.001
            ? $"p{Space}<{Space}0.001"
            : $"p{Space}={Space}{value.ToString(value < 0.0095 ? "0.000" : "0.00", CultureInfo.InvariantCulture)}";

    /// <summary>A chance in whole hundredths, for a figure that was simulated: <c>54</c>.</summary>
    public static string Hundred(double chance) => Math.Round(chance * 100).ToString("0", CultureInfo.InvariantCulture);

    /// <summary>The name of a month of the year, 1 to 12.</summary>
    public static string MonthOfYear(int number) => Months[number - 1];

    /// <summary><c>March 2026</c>.</summary>
    public static string Name(Month month) => $"{Months[month.Number - 1]}{Space}{month.Year}";

    /// <summary><c>Mar 26</c>, for an axis.</summary>
    public static string Abbreviated(Month month) => $"{Months[month.Number - 1][..3]}{Space}{month.Year % 100:D2}";

    /// <summary><c>April 2025 to March 2026</c>; one month by its name alone.</summary>
    public static string Span(Month from, Month to) => from == to ? Name(from) : $"{Name(from)} to {Name(to)}";

    /// <summary><c>31 March 2026</c>.</summary>
    public static string Date(DateOnly date) => $"{date.Day}{Space}{Months[date.Month - 1]}{Space}{date.Year}";

    /// <summary>A point of a chart: <c>Mar 26</c>, or <c>2026 Q1</c> for a quarter.</summary>
    public static string Point(PointSpan span, Month start) => span == PointSpan.Quarter
        ? $"{start.Year}{Space}Q{((start.Number - 1) / 3) + 1}"
        : Abbreviated(start);

    /// <summary>
    /// A ratio with its interval, to two decimals; beyond a thousandfold only the side is told: <c>1.24 (0.80 to 1.93)</c>,
    /// <c>above 1,000</c>.
    /// </summary>
    public static string Ratio(double value, double lower, double upper) =>
        $"{Ratio(value)} ({Ratio(lower)}{Space}to{Space}{Ratio(upper)})";

    private static string Ratio(double value) =>
        value > 1000 ? "above 1,000" : value is > 0 and < 0.005 ? "<0.01" : value.ToString("0.00", CultureInfo.InvariantCulture);

    /// <summary>
    /// A quantity's value: <c>112</c>, <c>93.5</c>; with all its places where it is counted with two or more: <c>0.20</c>.
    /// </summary>
    public static string Quantity(double value, int decimals = 0) =>
        value.ToString(decimals < 2 ? "#,0.#" : "#,0." + new string('0', decimals), CultureInfo.InvariantCulture);

    /// <summary>Two ends of a quantity: <c>112 to 140</c>.</summary>
    public static string QuantityRange(double lower, double upper, int decimals) =>
        $"{Quantity(lower, decimals)}{Space}to{Space}{Quantity(upper, decimals)}";

    public static string Audience(Audience audience) => audience switch
    {
        Analysis.Audience.Department => "department: contains small numbers, do not pass on",
        Analysis.Audience.Network => "network: numbers from 1 to 4 are left out",
        _ => "public: numbers from 1 to 9 are left out, counts rounded to 5",
    };
}
