using System.Collections;
using System.Globalization;
using System.Numerics;
using Outcomes.Reporting.Tables;

namespace Outcomes.Cli.Output;

/// <summary>A value that a query gave, of whatever type the engine has, as a person reads it.</summary>
internal static class QueriedValue
{
    /// <summary>Writes a cell: a number where a table can hold one, else text.</summary>
    public static void Write(TableWriter table, object? value) => _ = value switch
    {
        null => table.Empty(),
        long or int or short or sbyte or byte or ushort or uint => table.Integer(Convert.ToInt64(value, CultureInfo.InvariantCulture)),
        ulong or BigInteger => table.Integer(BigInteger.Parse(Show(value), CultureInfo.InvariantCulture)),
        double or float or decimal when Convert.ToDouble(value, CultureInfo.InvariantCulture) is var number && double.IsFinite(number) =>
            table.Number(number),
        _ => table.Text(Show(value)),
    };

    /// <summary>Its text; empty for none. A list is <c>[1, 2]</c>, a map or structure <c>{a: 1}</c>, bytes are hexadecimal.</summary>
    public static string Show(object? value) => value switch
    {
        null => "",
        string text => text,
        bool yes => yes ? "yes" : "no",
        double.PositiveInfinity or float.PositiveInfinity => "inf",
        double.NegativeInfinity or float.NegativeInfinity => "-inf",
        double.NaN or float.NaN => "nan",
        DateOnly date => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        DateTime moment => moment.ToString("yyyy-MM-dd HH:mm:ss.FFFFFF", CultureInfo.InvariantCulture),
        DateTimeOffset moment => moment.ToString("yyyy-MM-dd HH:mm:ss.FFFFFFzzz", CultureInfo.InvariantCulture),
        TimeOnly time => time.ToString("HH:mm:ss.FFFFFF", CultureInfo.InvariantCulture),
        TimeSpan span => span.ToString("c", CultureInfo.InvariantCulture),
        Stream bytes => Hexadecimal(bytes),
        IDictionary pairs => $"{{{string.Join(", ", pairs.Keys.Cast<object>().Select(key => $"{Show(key)}: {Show(pairs[key])}"))}}}",
        IEnumerable items => $"[{string.Join(", ", items.Cast<object?>().Select(Show))}]",
        IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
        _ => value.ToString() ?? "",
    };

    private static string Hexadecimal(Stream bytes)
    {
        using var all = new MemoryStream();
        bytes.CopyTo(all);
        return Convert.ToHexStringLower(all.ToArray());
    }
}
