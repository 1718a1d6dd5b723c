using System.Diagnostics;

namespace Outcomes.Tests.EndToEnd.Tool;

/// <summary>What a finished process left: its exit code and all that it said.</summary>
internal sealed record ToolResult(int Exit, string Output, string Error)
{
    /// <summary>For the message of a failed test.</summary>
    public override string ToString() => $"exit {Exit}\nstdout: {Output}\nstderr: {Error}";
}

/// <summary>Drives programs as a user does: by arguments, files, exit code and what is printed.</summary>
internal static class ToolProcess
{
    /// <summary>The environment of the tests as it is.</summary>
    public static readonly IReadOnlyDictionary<string, string?> Unchanged = new Dictionary<string, string?>();

    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(5);

    /// <summary>Runs the built tool in <paramref name="folder"/>.</summary>
    public static Task<ToolResult> Run(string folder, params string[] arguments) => Run(folder, Unchanged, arguments);

    /// <summary>Runs the built tool with changes to its environment; a null value takes the variable away.</summary>
    public static Task<ToolResult> Run(string folder, IReadOnlyDictionary<string, string?> environment, params string[] arguments) =>
        Start("dotnet", folder, environment, [Path.Combine(Repository.ToolFolder, "outcomes.dll"), .. arguments]);

    /// <summary>
    /// Methods are compiled a second time only after very many calls. The runs of tests are so short that this costs them more than it
    /// saves: a sixth of the processor time of six records. What a method computes is the same either way. The runtime reads the
    /// number as hexadecimal.
    /// </summary>
    public static void Hasten(ProcessStartInfo start) => start.Environment["DOTNET_TC_CallCountThreshold"] = "1000";

    /// <summary>Runs any program.</summary>
    public static async Task<ToolResult> Start(
        string program, string folder, IReadOnlyDictionary<string, string?> environment, params string[] arguments)
    {
        var start = new ProcessStartInfo(program, arguments)
        {
            WorkingDirectory = folder,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        Hasten(start);
        foreach (var (name, value) in environment)
            start.Environment[name] = value;

        using var process = Process.Start(start) ?? throw new InvalidOperationException($"{program} did not start.");
        process.StandardInput.Close();
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        patience.CancelAfter(Patience);
        try
        {
            var output = process.StandardOutput.ReadToEndAsync(patience.Token);
            var error = process.StandardError.ReadToEndAsync(patience.Token);
            await process.WaitForExitAsync(patience.Token);
            return new ToolResult(process.ExitCode, await output, await error);
        }
        catch (OperationCanceledException)
        {
            process.Kill(entireProcessTree: true);
            throw;
        }
    }
}
