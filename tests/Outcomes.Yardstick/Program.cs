using Outcomes.Yardstick;

switch (args)
{
    case ["rows", var sample, var number, var file]:
        Rows.Write(sample, int.Parse(number), file);
        return 0;
    case ["pass", var file]:
        var counts = Pass.Count(File.ReadAllBytes(file));
        Console.WriteLine($"{counts.Rows} rows; first pass {counts.Met} of {counts.Eligible}");
        return 0;
    default:
        Console.Error.WriteLine(
            "rows SAMPLE NUMBER FILE: that many rows after a sample of the comparison file; pass FILE: counts them by hand");
        return 2;
}
