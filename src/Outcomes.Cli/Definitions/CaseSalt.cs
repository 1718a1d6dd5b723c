using System.Security.Cryptography;
using Outcomes.Cli.Places;
using Outcomes.Records;

namespace Outcomes.Cli.Definitions;

/// <summary>
/// The department's salt: a line of text beside the pipeline. Whoever has it and the record ids can work out the case ids, so it is kept
/// where the records are kept; without it old case ids cannot be made again.
/// </summary>
internal static class CaseSalt
{
    public const string FileName = "case-salt.txt";

    private const int Bytes = 32, Fewest = 32, IdLength = 32;

    /// <summary>The salt; a new one is made where there is none.</summary>
    /// <exception cref="Failure">The file is too short to keep a secret (exit 3), or cannot be written (exit 5).</exception>
    public static byte[] Of(PipelineDefinition pipeline)
    {
        var path = PathOf(pipeline);
        if (!File.Exists(path)) Make(pipeline.Folder);
        var text = File.ReadAllText(path).Trim();
        return text.Length >= Fewest
            ? System.Text.Encoding.UTF8.GetBytes(text)
            : throw Failure.Definition(FileName, 1,
                "the salt is shorter than 32 characters; put the old file back, or delete it for a new one (case ids then change)");
    }

    /// <summary>
    /// What tells a pipeline from another of the same name: the file's name under the salt, which moves with its folder and
    /// names no machine.
    /// </summary>
    public static string PipelineId(PipelineDefinition pipeline) => Convert.ToHexStringLower(HMACSHA256.HashData(
        Of(pipeline), System.Text.Encoding.UTF8.GetBytes("pipeline " + Path.GetFileName(pipeline.Path).ToLowerInvariant())))[..IdLength];

    public static string PathOf(PipelineDefinition pipeline) => Path.Combine(pipeline.Folder, FileName);

    /// <summary>Makes a salt in a folder that has none.</summary>
    public static void Make(string folder)
    {
        var path = Path.Combine(folder, FileName);
        try
        {
            using var work = WorkFolder.Take(path, FileName);
            // Another run may have made it meanwhile.
            if (File.Exists(path)) return;
            File.WriteAllText(work.New, Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(Bytes)) + "\n");
            Moves.ToFree(work.New, path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or Failure)
        {
            throw new Failure(ExitCode.Output,
                $"`{FileName}` cannot be written beside the pipeline; case ids need it, so make the folder writable or put the file there");
        }
    }
}
