using System.Globalization;

namespace Outcomes.Yardstick;

/// <summary>
/// Many rows after a few: the rows of a sample again and again, each time under keys of their own and in one of five years.
/// </summary>
internal static class Rows
{
    public static void Write(string sample, int number, string file)
    {
        var lines = File.ReadAllLines(sample);
        var rows = lines[1..];
        using var writer = new StreamWriter(file) { NewLine = "\n" };
        writer.WriteLine(lines[0]);
        for (var i = 0; i < number; i++)
        {
            // Key and date are the first two cells, and neither is ever quoted. A bad cell of the sample stays as it is.
            var cells = rows[i % rows.Length].Split(',', 3);
            var turn = i / rows.Length;
            var day = DateOnly.TryParseExact(cells[1], "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date)
                ? date.AddYears(-(turn % 5)).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) : cells[1];
            writer.WriteLine($"{(cells[0].Length > 0 ? $"{cells[0]}-{turn}" : "")},{day},{cells[2]}");
        }
    }
}
