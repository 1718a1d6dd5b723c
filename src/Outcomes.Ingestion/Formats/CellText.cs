using System.Globalization;
using System.Text;
using Outcomes.Ingestion.Reading;
using Outcomes.Records;

namespace Outcomes.Ingestion.Formats;

/// <summary>The text of a typed cell: what the reader of its column takes for the same value.</summary>
/// <param name="decimalPoint">The decimal sign that the mapping declares.</param>
/// <param name="serialShift">Days that the file's calendar starts after that of 1900.</param>
internal sealed class CellText(char decimalPoint, int serialShift = 0)
{
    // Day 60 of the spreadsheets' calendar is 29 February 1900, which never was; before it days are counted otherwise.
    private const double FirstSerial = 61;
    private const double LastSerial = 2_958_465;

    private static readonly string[] Yes = ["TRUE", "true", "1", "yes"];
    private static readonly string[] No = ["FALSE", "false", "0", "no"];

    /// <summary>The text of a value; empty for none.</summary>
    /// <param name="value">The value as its file types it.</param>
    /// <param name="reader">The reader of its column; null where the column is not mapped.</param>
    public string Of(object? value, CellReader? reader) => value switch
    {
        null => "",
        string text => text,
        bool yes => Of(yes, reader),
        DateTime moment => Of(moment, reader),
        DateOnly date => Of(date.ToDateTime(TimeOnly.MinValue), reader),
        TimeOnly time => Of(DateTime.UnixEpoch.Add(time.ToTimeSpan()), reader, timeOnly: true),
        TimeSpan span when span >= TimeSpan.Zero && span < TimeSpan.FromDays(1) => Of(DateTime.UnixEpoch.Add(span), reader, timeOnly: true),
        double number => Of(number, reader),
        float number => Decimal(number.ToString("R", CultureInfo.InvariantCulture)),
        decimal number => Pointed(number.ToString(CultureInfo.InvariantCulture)),
        IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
        _ => value.ToString() ?? "",
    };

    private static string Of(bool yes, CellReader? reader)
    {
        var words = yes ? Yes : No;
        return words.FirstOrDefault(word => reader?.Knows(Encoding.ASCII.GetBytes(word)) ?? false) ?? words[0];
    }

    private static string Of(DateTime moment, CellReader? reader, bool timeOnly = false) => reader switch
    {
        { Field.Type: FieldType.Date } when timeOnly => moment.ToString("HH:mm:ss", CultureInfo.InvariantCulture),
        { Pattern: { } pattern } => pattern.Format(moment),
        // A cell formatted as a time of day comes with the calendar's day nought.
        _ when timeOnly || moment.Year < 1900 => moment.ToString("HH:mm:ss", CultureInfo.InvariantCulture),
        _ => moment.ToString(moment.TimeOfDay == TimeSpan.Zero ? "yyyy-MM-dd" : "yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture),
    };

    // A number under a date field is the calendar's count of days, unless it can be none: 20240131 is a date written in digits.
    private string Of(double number, CellReader? reader) => reader?.Field.Type switch
    {
        FieldType.Date when number + serialShift is >= FirstSerial and <= LastSerial =>
            reader.Pattern!.Format(DateTime.FromOADate(number + serialShift)),
        FieldType.Time when number is >= 0 and < 1 => reader.Pattern!.Format(DateTime.UnixEpoch.AddSeconds(Math.Round(number * 86_400))),
        FieldType.Time when number + serialShift is >= FirstSerial and <= LastSerial && number != Math.Floor(number) =>
            reader.Pattern!.Format(DateTime.FromOADate(number + serialShift)),
        _ when Math.Abs(number) < 1e15 && number == Math.Floor(number) => ((long)number).ToString(CultureInfo.InvariantCulture),
        // Fifteen significant digits, as spreadsheets show and compare numbers: 0.1 + 0.2 is 0.3.
        _ => Decimal(number.ToString("G15", CultureInfo.InvariantCulture)),
    };

    private string Decimal(string text) =>
        Pointed(text.Contains('E', StringComparison.Ordinal)
            && decimal.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var plain)
            ? plain.ToString(CultureInfo.InvariantCulture) : text);

    private string Pointed(string text) => decimalPoint == '.' ? text : text.Replace('.', decimalPoint);
}
