using Outcomes.Records;

namespace Outcomes.Fuzz;

/// <summary>An entry point for input of any kind.</summary>
/// <param name="Name">Its name on the command line.</param>
/// <param name="MakeSeeds">Makes inputs that are good. Not before they are asked for: under AFL++ no code of ours may run earlier.</param>
/// <param name="Read">Reads one.</param>
internal sealed record Target(string Name, Func<byte[][]> MakeSeeds, Action<byte[]> Read)
{
    private byte[][]? _seeds;

    public byte[][] Seeds => _seeds ??= MakeSeeds();

    /// <summary>Reads an input; a refusal in words is as good an end as success, anything else is a fault of ours.</summary>
    /// <returns>How it ended, without a word of the input.</returns>
    public string Run(byte[] input)
    {
        try
        {
            Read(input);
            return "read";
        }
        catch (Failure failure)
        {
            return $"refused, exit {(int)failure.Code}";
        }
    }
}
