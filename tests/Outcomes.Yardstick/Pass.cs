using System.Buffers.Text;
using System.Text;

namespace Outcomes.Yardstick;

/// <summary>
/// The counting of <c>pipelines/baseline.yaml</c> in one pass by hand: bytes read once, cells split by RFC 4180, the cells of 20
/// measures judged, met and eligible added up by month. No rules, no store, no strata, no intervals: the least that a program on
/// this machine can do.
/// </summary>
internal static class Pass
{
    private const int Years = 20, FirstYear = 2010, Measures = 20;

    private static readonly string[] Columns =
    [
        "occurred_on", "first_attempt_success", "attempts", "spo2_before", "spo2_lowest", "sbp_before", "sbp_lowest", "plan_reached",
        "capnography_used", "checklist_completed", "preox_minutes", "apnoeic_oxygen", "device", "cardiac_arrest", "intubation_seconds",
    ];

    public static (int Rows, long Met, long Eligible) Count(ReadOnlySpan<byte> text)
    {
        var heading = Encoding.UTF8.GetString(text[..text.IndexOf((byte)'\n')]).TrimEnd('\r').Split(',');
        var columns = Array.ConvertAll(Columns, name => Place(heading, name));
        var (met, eligible) = (new long[Years * 12 * Measures], new long[Years * 12 * Measures]);
        var cells = new Range[heading.Length];
        var rows = 0;
        for (var at = text.IndexOf((byte)'\n') + 1; at < text.Length; rows++)
        {
            var found = Split(text, ref at, cells);
            if (found == cells.Length && Month(text[cells[columns[0]]]) is >= 0 and var month)
                Judge(text, cells, columns, month * Measures, met, eligible);
        }

        return (rows, Sum(met), Sum(eligible));

        static long Sum(long[] counts) => counts.Where((_, i) => i % Measures == 0).Sum();
    }

    private static int Place(string[] heading, string name) =>
        Array.IndexOf(heading, name) is >= 0 and var at ? at : throw new FormatException($"no column {name}");

    // Cells of one row, and the start of the next one.
    private static int Split(ReadOnlySpan<byte> text, ref int at, Range[] cells)
    {
        var (number, start, quoted) = (0, at, false);
        for (; at < text.Length; at++)
        {
            var c = text[at];
            if (c == '"')
                quoted = !quoted;
            else if (!quoted && c is (byte)',' or (byte)'\n')
            {
                if (number < cells.Length)
                    cells[number] = start..at;
                number++;
                start = at + 1;
                if (c == '\n')
                    break;
            }
        }

        at++;
        return number;
    }

    private static int Month(ReadOnlySpan<byte> cell) =>
        cell.Length == 10 && Utf8Parser.TryParse(cell[..4], out int year, out var used) && used == 4
        && Utf8Parser.TryParse(cell[5..7], out int month, out used) && used == 2
        && year is >= FirstYear and < FirstYear + Years && month is >= 1 and <= 12 ? ((year - FirstYear) * 12) + month - 1 : -1;

    // NaN where the cell is no number, so that it is neither eligible nor met.
    private static double Number(ReadOnlySpan<byte> cell) =>
        Utf8Parser.TryParse(cell, out double number, out var used) && used == cell.Length ? number : double.NaN;

    private static void Judge(ReadOnlySpan<byte> text, Range[] cells, int[] columns, int at, long[] met, long[] eligible)
    {
        Span<double> value = stackalloc double[Columns.Length];
        for (var i = 1; i < value.Length; i++)
            value[i] = Number(text[cells[columns[i]]]);
        var (first, attempts, lowest, pressure) = (value[1], value[2], value[4], value[6]);
        var plan = text[cells[columns[7]]] is [>= (byte)'A' and <= (byte)'D' and var letter] ? letter - 'A' : -1;
        var device = text[cells[columns[12]]];
        var (known, low) = (!double.IsNaN(first), !double.IsNaN(lowest));
        Add(0, known, first == 1);
        Add(1, known && low, first == 1 && lowest >= 90);
        Add(2, known && low && !double.IsNaN(pressure), first == 1 && lowest >= 90 && pressure >= 90);
        Add(3, attempts >= 0, attempts >= 2);
        Add(4, attempts >= 0, attempts >= 3);
        Add(5, value[3] >= 90 && low, lowest < 90);
        Add(6, value[3] >= 80 && low, lowest < 80);
        for (var i = 0; i < 4; i++)
            Add(7 + i, plan >= 0, i == 0 ? plan == 0 : plan >= i);
        Add(11, value[5] >= 90 && !double.IsNaN(pressure), pressure < 90);
        Add(12, value[5] >= 65 && !double.IsNaN(pressure), pressure < 65);
        Add(13, value[8] >= 0, value[8] == 1);
        Add(14, value[9] >= 0, value[9] == 1);
        Add(15, value[10] >= 0, value[10] >= 3);
        Add(16, value[11] >= 0, value[11] == 1);
        Add(17, device.Length > 0, device.StartsWith("vl_"u8));
        Add(18, value[13] >= 0, value[13] == 1);
        Add(19, value[14] >= 0, value[14] <= 60);

        void Add(int measure, bool asked, bool done)
        {
            eligible[at + measure] += asked ? 1 : 0;
            met[at + measure] += asked && done ? 1 : 0;
        }
    }
}
