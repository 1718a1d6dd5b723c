using System.Security.Cryptography;
using Outcomes.Ingestion.Formats;
using Outcomes.Records;

namespace Outcomes.Ingestion.Ledgers;

/// <summary>Opens a source that was read once more, for the rows that are to be mended.</summary>
internal static class SourceText
{
    /// <summary>The text that the places of a source's rows lie in: the file itself, or its conversion, made once more.</summary>
    /// <exception cref="Failure">The file is not the one that was read (exit 4).</exception>
    public static FileStream Open(IngestedSource source)
    {
        var (request, manifest) = (source.Request, source.Manifest);
        var file = Reopen(request);
        var handed = file;
        try
        {
            if (file.Length != manifest.Length || (manifest.Converted && !SameBytes(file, manifest)))
                throw Changed(request);
            if (!manifest.Converted) return file;
            var format = SourceFormats.Of(file, request.Mapping, request.File);
            return handed = ConvertedText.Make(format, file, Path.GetDirectoryName(source.Stored.Folder)!,
                TableRequest.Mapped(request.File, request.Mapping, source.Dictionary)).Text;
        }
        finally
        {
            if (handed != file || manifest.Converted) file.Dispose();
        }
    }

    private static FileStream Reopen(SourceRequest request)
    {
        try
        {
            return new FileStream(request.Path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, 1 << 16);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw Changed(request);
        }
    }

    private static Failure Changed(SourceRequest request) => new(ExitCode.Input,
        $"source `{request.Name}`: the file was changed or deleted while the command ran; run it again", request.File);

    private static bool SameBytes(FileStream file, SourceManifest manifest)
    {
        var same = Convert.ToHexStringLower(SHA256.HashData(file)) == manifest.Sha256;
        file.Position = 0;
        return same;
    }
}
