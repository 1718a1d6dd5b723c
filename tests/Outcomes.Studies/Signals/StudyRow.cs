using System.Globalization;

namespace Outcomes.Studies.Signals;

/// <summary>One figure of the study, as its file carries it.</summary>
/// <param name="Part">The table it belongs to.</param>
/// <param name="Volume">Mean cases a month.</param>
/// <param name="History">Months of history.</param>
/// <param name="Scheme">What gave the signals.</param>
/// <param name="Figure">What was counted.</param>
/// <param name="Value">A share from 0 to 1, or months; null: not reached by so many.</param>
/// <param name="Error">Standard error of the simulation; null for a quantile.</param>
/// <param name="Reference">What an earlier, independent study of the same cell gave; null: none.</param>
/// <param name="ReferenceError">Its standard error with that of its rounding.</param>
internal sealed record StudyRow(
    string Part, double Volume, int History, string Scheme, string Figure, double? Value, double? Error = null, double? Reference = null,
    double? ReferenceError = null)
{
    public const string Header = "part,volume,history,scheme,figure,value,error,reference,reference_error";

    /// <summary>Difference from the reference in standard errors; null without one.</summary>
    public double? Distance => Reference is { } other && Value is { } value && Error is { } error && ReferenceError is { } otherError
        ? (value - other) / Math.Sqrt((error * error) + (otherError * otherError))
        : null;

    public string Line => string.Join(',', Part, Number(Volume), Number(History), Scheme, Figure, Number(Value), Number(Error),
        Number(Reference), Number(ReferenceError));

    public static StudyRow Parse(string line)
    {
        var cells = line.Split(',');
        return new(
            cells[0], Read(cells[1])!.Value, (int)Read(cells[2])!.Value, cells[3], cells[4], Read(cells[5]), Read(cells[6]),
            Read(cells[7]), Read(cells[8]));
    }

    private static double? Read(string cell) => cell.Length == 0 ? null : double.Parse(cell, CultureInfo.InvariantCulture);

    private static string Number(double? value) => value is { } number ? Math.Round(number, 4).ToString(CultureInfo.InvariantCulture) : "";
}
