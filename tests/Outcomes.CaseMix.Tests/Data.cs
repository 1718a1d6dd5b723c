using System.Globalization;
using System.Text.Json;

namespace Outcomes.Tests;

/// <summary>Published data and R's answers, from tests/fixtures/casemix; tests/reference/casemix.R makes both.</summary>
internal static class Data
{
    public static string Folder => Path.Combine(AppContext.BaseDirectory, "fixtures", "casemix");

    public static JsonElement Json(string file) => JsonDocument.Parse(File.ReadAllText(Path.Combine(Folder, file))).RootElement;

    /// <summary>A table's columns by heading.</summary>
    public static Dictionary<string, double[]> Columns(string file)
    {
        var lines = File.ReadAllLines(Path.Combine(Folder, file));
        var cells = lines[1..]
            .Select(line => line.Split(',').Select(cell => double.Parse(cell, CultureInfo.InvariantCulture)).ToArray()).ToArray();
        return lines[0].Split(',').Select((heading, j) => (heading, values: cells.Select(row => row[j]).ToArray()))
            .ToDictionary(pair => pair.heading, pair => pair.values);
    }

    /// <summary>Rows of a table, one function a column.</summary>
    public static double[][] Rows(string file, params Func<Dictionary<string, double[]>, int, double>[] columns)
    {
        var table = Columns(file);
        return [.. Enumerable.Range(0, table.Values.First().Length).Select(i => columns.Select(column => column(table, i)).ToArray())];
    }

    public static bool[] Yes(string file, string column) => [.. Columns(file)[column].Select(value => value == 1)];

    public static double[] Numbers(this JsonElement element, string name) =>
        [.. element.GetProperty(name).EnumerateArray().Select(value => value.GetDouble())];

    public static double Number(this JsonElement element, string name) => element.GetProperty(name).GetDouble();

    /// <summary>Fails unless each value is within the tolerance, absolute or relative to the expected, whichever is larger.</summary>
    public static void Near(double[] expected, IEnumerable<double> actual, double tolerance, string what)
    {
        double[] values = [.. actual];
        Assert.Equal(expected.Length, values.Length);
        for (var i = 0; i < expected.Length; i++)
            Assert.True(Math.Abs(values[i] - expected[i]) <= tolerance * Math.Max(1, Math.Abs(expected[i])),
                $"{what}[{i}] is {values[i]:R}, expected {expected[i]:R} ± {tolerance}");
    }
}
