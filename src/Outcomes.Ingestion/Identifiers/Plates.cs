using System.Text.RegularExpressions;

namespace Outcomes.Ingestion.Identifiers;

/// <summary>
/// Number plates of vehicles, as whole cells: forms of the countries of northern, western and southern Europe (common practice). One
/// such cell is as likely a code; a column of them is a warning.
/// </summary>
public static partial class Plates
{
    /// <summary>True when a whole cell has the form of a plate.</summary>
    public static bool Are(ReadOnlySpan<char> cell) => cell.Length is >= 6 and <= 11 && Form().IsMatch(cell);

    // United Kingdom AB12CDE and A123 BCD, Germany M-AB 1234, France and Italy AB-123-CD, Spain 1234 BCD, Netherlands 12-ABC-3 and
    // AB-12-CD, Sweden and Finland ABC-123 and ABC 12D, Norway AB 12345, Denmark AB 12 345.
    [GeneratedRegex("^(?:[A-Z]{2}[0-9]{2} ?[A-Z]{3}|[A-Z][0-9]{1,3} [A-Z]{3}|[A-ZÄÖÜ]{1,3}-[A-Z]{1,2} [0-9]{1,4}[EH]?|[A-Z]{2}[- "
        + "]?[0-9]{3}[- ]?[A-Z]{2}|"
        + "[0-9]{4} [BCDFGHJKLMNPRSTVWXYZ]{3}|[0-9]{1,2}-[A-Z]{2,3}-[0-9]{1,2}|[A-Z]{1,2}-[0-9]{2,3}-[A-Z]{1,2}|[A-Z]{3}[ "
        + "-][0-9]{2}[0-9A-Z]|"
        + "[A-Z]{2} [0-9]{5}|[A-Z]{2} [0-9]{2} [0-9]{3})$")]
    private static partial Regex Form();
}
