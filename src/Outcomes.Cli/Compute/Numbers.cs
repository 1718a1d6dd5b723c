using System.Globalization;
using System.Text.Json.Nodes;

namespace Outcomes.Cli.Compute;

/// <summary>Numbers as results carry them.</summary>
internal static class Numbers
{
    /// <summary>Rounded to 12 significant digits, so that the last bits of a processor never show.</summary>
    public static JsonNode Of(double value) =>
        double.Parse(value.ToString("G12", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    /// <summary>The same, with null for no number.</summary>
    public static JsonNode? Of(double? value) => value is { } number ? Of(number) : null;
}
