using System.Globalization;

namespace Outcomes.Records;

/// <summary>
/// The dates and months that a definition or a command may name. A year outside is a slip of the hand, and would ask for series of
/// thousands of empty months.
/// </summary>
public static class ReportedTime
{
    private const int FirstYear = 1900, LastYear = 2199;

    /// <summary>The years, for messages.</summary>
    public const string Years = "1900 to 2199";

    /// <summary>Reads exactly <c>yyyy-MM-dd</c>.</summary>
    public static bool TryParse(string? text, out DateOnly date) =>
        DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out date) && Holds(date.Year);

    /// <summary>Reads exactly <c>yyyy-MM</c>.</summary>
    public static bool TryParse(string? text, out Month month) => Month.TryParse(text, out month) && Holds(month.Year);

    private static bool Holds(int year) => year is >= FirstYear and <= LastYear;
}
