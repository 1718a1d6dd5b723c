using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Globalization;

namespace Outcomes.Synthetic.Export;

/// <summary>A column of an export, as the invented department's software writes it.</summary>
/// <param name="Heading">Its heading.</param>
/// <param name="Text">The cell when nothing is missing.</param>
/// <param name="MissingPerMille">Chance that the cell is left out.</param>
/// <param name="IsVital">A saturation or pressure: missing more often in cardiac arrest, and left out with a dash.</param>
internal sealed record LocalColumn<T>(string Heading, Func<T, string> Text, int MissingPerMille = 0, bool IsVital = false);

/// <summary>Cells as text, always in the invariant culture.</summary>
internal static class Cells
{
    public static string Number(int value) => value.ToString(CultureInfo.InvariantCulture);

    /// <summary>Day first, as the mapping file states.</summary>
    public static string Date(DateOnly date) => date.ToString("dd'/'MM'/'yyyy", CultureInfo.InvariantCulture);

    public static string List(ImmutableArray<string> values, FrozenDictionary<string, string> codes) =>
        values.Length == 1 ? codes[values[0]] : string.Join(';', values.Select(value => codes[value]));
}
