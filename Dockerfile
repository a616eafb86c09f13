# The server for compose.yaml; one computer alone needs none of this.
FROM python:3.13-slim
WORKDIR /app
COPY pyproject.toml README.md LICENSE ./
COPY requirements requirements
RUN pip install --no-cache-dir --require-hashes -r requirements/run.txt
COPY src src
RUN pip install --no-cache-dir --no-deps --no-build-isolation . && useradd --create-home shop && mkdir /data && chown shop /data
USER shop
EXPOSE 8765
CMD ["sashwright", "serve", "--no-browser", "--port", "8765", "--behind-proxy"]
